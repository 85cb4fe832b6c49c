"""The form of a job."""

from __future__ import annotations

from typing import Unpack

from django import forms
from django.core.exceptions import ValidationError

from jobs.forms.base import Data, VersionedForm, VersionedOptions, text_field
from jobs.models import (
    Client,
    Company,
    Job,
    UnitSystem,
)


class JobForm(VersionedForm):
    """A job: for whom, what, where, in which units."""

    client = forms.ModelChoiceField(queryset=Client.objects.none(), label="Client")
    title = text_field("What it is", 120, required=True)
    address = text_field("Site address", 400, rows=3, required=True)
    # Not called `units`: the form itself keeps the unit system under that name.
    measured_in = forms.ChoiceField(label="Measured in", choices=UnitSystem.choices)

    def __init__(
        self,
        data: Data = None,
        *,
        company: Company,
        job: Job | None = None,
        **options: Unpack[VersionedOptions],
    ) -> None:
        super().__init__(data, **options)
        self.job = job
        clients = self.fields["client"]
        if isinstance(clients, forms.ModelChoiceField):
            clients.queryset = company.clients.all()

    def clean_measured_in(self) -> str:
        """Refuse to change the units under rooms that were measured in the old ones."""
        units: str = self.cleaned_data["measured_in"]
        if self.job and units != self.job.units and self.job.rooms.exists():
            now = self.job.get_units_display()
            message = f"Rooms are measured already; accepted: {now}, or remove the rooms first."
            raise ValidationError(message)
        return units

    @property
    def values(self) -> dict[str, object]:
        """The cleaned values under the names of the job's fields."""
        data = self.cleaned_data
        return {
            "client": data["client"],
            "title": data["title"],
            "address": data["address"],
            "units": data["measured_in"],
        }
