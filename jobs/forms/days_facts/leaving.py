"""The form that notes the last day of somebody in a crew."""

from __future__ import annotations

from datetime import date
from typing import Unpack

from django import forms

from jobs.forms.base import Data, FormOptions, OnceForm
from jobs.models import Crew


class LeavingForm(OnceForm):
    """Who leaves, and their last day; no day: they stay."""

    person = forms.TypedChoiceField(label="Who", coerce=int)
    last_day = forms.DateField(
        label="Last day with this crew",
        required=False,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        help_text="Left empty: they stay.",
    )

    def __init__(
        self, data: Data = None, *, crew: Crew, today: date, **options: Unpack[FormOptions]
    ) -> None:
        super().__init__(data, **options)
        who = self.fields["person"]
        if isinstance(who, forms.TypedChoiceField):
            who.choices = [(one.pk, one.name) for one in crew.members.all()]
            who.error_messages["required"] = "Nobody is chosen; accepted: somebody of this crew."
        accepted = f"accepted: a day from {today} on, written as {today}, or left empty"
        self.fields["last_day"].error_messages["invalid"] = (
            f"This is no day of the calendar; {accepted}."
        )
