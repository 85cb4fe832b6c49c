"""Forms of what comes after a job was closed: a callback, a correction of its log."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import TypeAlias, Unpack, cast

from django import forms
from django.core.exceptions import ValidationError

from jobs.forms.base import Data, NumberField, OnceForm, VersionedForm, VersionedOptions
from jobs.models import CallbackCause, Company, Crew

CrewChoice: TypeAlias = "forms.ModelChoiceField[Crew]"
NEEDED_WHAT = "Nothing was typed; accepted: what is wrong, in a few words."


class CallbackForm(VersionedForm):
    """What is wrong, and why it came to it."""

    what = forms.CharField(
        label="What is wrong", max_length=300, error_messages={"required": NEEDED_WHAT}
    )
    cause = forms.ChoiceField(label="Why it came to it", choices=CallbackCause.choices)
    settled = forms.BooleanField(label="It is settled", required=False)


class NewCallbackForm(VersionedForm):
    """What is wrong, and who goes back when."""

    what = forms.CharField(
        label="What is wrong", max_length=300, error_messages={"required": NEEDED_WHAT}
    )
    cause = forms.ChoiceField(label="Why it came to it", choices=CallbackCause.choices)
    on = forms.DateField(label="Day", widget=forms.DateInput(attrs={"type": "date"}))
    crew = forms.ModelChoiceField(label="Crew", queryset=Crew.objects.none())

    def __init__(
        self,
        data: Data = None,
        *,
        company: Company,
        closed_on: date,
        **options: Unpack[VersionedOptions],
    ) -> None:
        super().__init__(data, **options)
        self.closed_on = closed_on
        cast(CrewChoice, self.fields["crew"]).queryset = company.crews.all()
        self.fields["cause"].initial = CallbackCause.UNKNOWN

    def clean_on(self) -> date:
        """Refuse a day before the job was closed."""
        day: date = self.cleaned_data["on"]
        if day < self.closed_on:
            accepted = f"accepted: {self.closed_on.isoformat()}, when the job was closed, or later"
            raise ValidationError(f"{day.isoformat()} is before that; {accepted}.")
        return day


class CorrectionForm(OnceForm):
    """Hours as they really were, and why they are put right."""

    hours = NumberField(label="Hours as they really were", least=Decimal(0), most=Decimal(24))
    reason = forms.CharField(
        label="Why",
        max_length=300,
        error_messages={"required": "Nothing was typed; accepted: why the log is put right."},
    )
