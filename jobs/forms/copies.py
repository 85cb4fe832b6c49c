"""The forms of copies: to which job, under which name; a house plan to its lots."""

from __future__ import annotations

from typing import Unpack

from django import forms
from django.core.exceptions import ValidationError

from jobs.domain.checks import BadValueError
from jobs.domain.copies import LONGEST_ADDRESS, MOST_LOTS, lots_in
from jobs.forms.base import Data, FormOptions, NameField, OnceForm, WholeField, text_field
from jobs.models import Client, Company, Job
from jobs.services.copies.copies import refuse_target

HIGHEST_NUMBER = 999_999_999


class CopyToJobForm(OnceForm):
    """To which job something is copied, by the job's number."""

    number = WholeField(label="To job number", least=1, most=HIGHEST_NUMBER)

    def __init__(
        self, data: Data = None, *, job: Job, company: Company, **options: Unpack[FormOptions]
    ) -> None:
        super().__init__(data, **options)
        self.job, self.company = job, company
        self.fields["number"].initial = job.number
        self.to = job

    def clean_number(self) -> int:
        """Refuse the number of no job, or of one that nothing is copied into."""
        number: int = self.cleaned_data["number"]
        to = Job.objects.filter(company=self.company, number=number).first()
        if to is None:
            raise ValidationError(f"No job has the number {number}; accepted: that of an open job.")
        try:
            refuse_target(to, units=self.job.units)
        except BadValueError as bad:
            raise ValidationError(f"Job {bad.value}; accepted: {bad.accepted}.") from None
        self.to = to
        return number


class CopyRoomForm(CopyToJobForm):
    """What the copy of a room is called, and in which job."""

    name = NameField(label="Name of the copy", max_length=80)

    field_order = ("name", "number")


class CopyJobForm(OnceForm):
    """To which lots a job is copied, for whom, under which title."""

    client = forms.ModelChoiceField(queryset=Client.objects.none(), label="Client")
    title = text_field("What it is", 120, required=True)
    addresses = forms.CharField(
        label="Site addresses, one a line",
        max_length=(LONGEST_ADDRESS + 2) * MOST_LOTS,
        widget=forms.Textarea(attrs={"rows": 6}),
        help_text=f"A job for each line, up to {MOST_LOTS}.",
    )
    plan_too = forms.BooleanField(
        label="Plan the floors of the copies too",
        required=False,
        initial=True,
        help_text="Those that are planned in this job. It goes on while you do something else.",
    )

    def __init__(
        self, data: Data = None, *, company: Company, **options: Unpack[FormOptions]
    ) -> None:
        super().__init__(data, **options)
        clients = self.fields["client"]
        if isinstance(clients, forms.ModelChoiceField):
            clients.queryset = company.clients.all()

    def clean_addresses(self) -> tuple[str, ...]:
        """Return the lots. Refuses a line that is none, by its number."""
        try:
            return lots_in(self.cleaned_data["addresses"])
        except BadValueError as bad:
            value = f"{str(bad.value)[:1].upper()}{str(bad.value)[1:]}"
            raise ValidationError(f"{value}; accepted: {bad.accepted}.") from None
