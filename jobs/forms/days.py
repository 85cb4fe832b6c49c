"""The form that lays a job onto days."""

from __future__ import annotations

from datetime import date
from typing import Unpack

from django import forms

from jobs.forms.base import Data, FormOptions, OnceForm, PlainForm
from jobs.models import Company, Crew

FAR = 730
"""Days ahead that a start may lie; further is taken for a slip of the year."""


class DaysForm(OnceForm):
    """Which crew, from when, on which days of the week."""

    crew = forms.ModelChoiceField(
        label="Crew",
        queryset=Crew.objects.none(),
        error_messages={"required": "No crew is chosen; accepted: one of the list."},
    )
    start = forms.DateField(
        label="First day",
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
    )
    saturdays = forms.BooleanField(label="Saturdays are worked", required=False)
    afresh = forms.BooleanField(
        label="Forget the days lost, moved and held so far",
        required=False,
        help_text="Without it they bound the days that are planned now.",
    )
    holidays_too = forms.BooleanField(label="Holidays are worked", required=False)

    def __init__(
        self, data: Data = None, *, company: Company, today: date, **options: Unpack[FormOptions]
    ) -> None:
        super().__init__(data, **options)
        crews = self.fields["crew"]
        if isinstance(crews, forms.ModelChoiceField):
            crews.queryset = company.crews.all()
        accepted = f"accepted: a day from {today} on"
        self.fields["start"].error_messages = {
            "required": f"No day is given; {accepted}.",
            "invalid": f"This is no day of the calendar; {accepted}, written as {today}.",
        }
        self.today = today

    def clean_start(self) -> date:
        """Return the first day. Raises ValidationError for one in the past or years away."""
        start: date = self.cleaned_data["start"]
        if start < self.today:
            raise forms.ValidationError(f"{start} is past; accepted: {self.today} or later.")
        if (start - self.today).days > FAR:
            raise forms.ValidationError(f"{start} is more than two years away; check the year.")
        return start


class DayPickForm(PlainForm):
    """To which date a day is moved, or which task of it is held to one."""

    task = forms.ChoiceField(label="Task", required=False)
    to = forms.DateField(
        label="To the date", widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
    )

    def __init__(
        self,
        data: Data = None,
        *,
        tasks: list[tuple[str, str]],
        today: date,
        **options: Unpack[FormOptions],
    ) -> None:
        super().__init__(data, **options)
        accepted = f"accepted: a day from {today} on"
        self.fields["to"].error_messages = {
            "required": f"No day is given; {accepted}.",
            "invalid": f"This is no day of the calendar; {accepted}, written as {today}.",
        }
        task = self.fields["task"]
        if not tasks:
            del self.fields["task"]
        elif isinstance(task, forms.ChoiceField):
            task.choices = tasks


class DaySplitForm(DayPickForm):
    """What of a day stays, and on which date and with which crew the rest goes on."""

    stays = forms.CharField(
        label="Stays on this day",
        max_length=20,
        error_messages={"required": "Nothing is typed; accepted: a row or hours, 0 for none."},
    )
    crew = forms.ModelChoiceField(
        label="Who goes on that date", queryset=Crew.objects.none(), empty_label=None
    )

    field_order = ("task", "stays", "to", "crew")

    def __init__(
        self,
        data: Data = None,
        *,
        company: Company,
        tasks: list[tuple[str, str]],
        today: date,
        **options: Unpack[FormOptions],
    ) -> None:
        super().__init__(data, tasks=tasks, today=today, **options)
        self.fields["task"].label = "What is split"
        self.fields["task"].required = True
        self.fields["to"].label = "The rest goes on"
        crews = self.fields["crew"]
        if isinstance(crews, forms.ModelChoiceField):
            crews.queryset = company.crews.all()


class DaysChangeForm(OnceForm):
    """Why days are changed; the days as they were seen go along, and the effect as it was shown."""

    shown = forms.CharField(max_length=64, required=False, widget=forms.HiddenInput)
    seen = forms.CharField(max_length=64, required=False, widget=forms.HiddenInput)
    reason = forms.CharField(
        label="Reason",
        max_length=300,
        error_messages={"required": "No reason is given; accepted: rain, no key, somebody ill."},
    )
