"""The form that notes which rooms may be open for nights."""

from __future__ import annotations

from datetime import date
from typing import Unpack

from django import forms

from jobs.forms.base import Cleaned, Data, FormOptions, OnceForm, text_field
from jobs.models import Room
from jobs.services.lived_in.nights import NightsWord


class NightsForm(OnceForm):
    """Room by room or for the whole job: who agreed, and when."""

    whole_job = forms.BooleanField(label="All rooms of the job", required=False)
    rooms = forms.MultipleChoiceField(
        label="Rooms", required=False, widget=forms.CheckboxSelectMultiple
    )
    days_off = forms.BooleanField(
        label="Over a weekend or a holiday too",
        required=False,
        help_text="Without it no such room is open over days on which nobody works.",
    )
    by = text_field("Agreed to by, name", 120)
    on = forms.DateField(
        label="Agreed on",
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
    )

    def __init__(
        self,
        data: Data = None,
        *,
        choices: list[tuple[Room, str]],
        today: date,
        **options: Unpack[FormOptions],
    ) -> None:
        super().__init__(data, **options)
        rooms = self.fields["rooms"]
        if isinstance(rooms, forms.MultipleChoiceField):
            rooms.choices = [(str(room.pk), f"{room.name} ({use})") for room, use in choices]
        if not choices:
            del self.fields["rooms"]
        accepted = f"accepted: a day up to {today}"
        self.fields["on"].error_messages = {
            "required": f"No day is given; {accepted}.",
            "invalid": f"This is no day of the calendar; {accepted}, written as {today}.",
        }
        self.today = today

    def clean_on(self) -> date:
        """Return the day. Raises ValidationError for one that lies ahead."""
        on: date = self.cleaned_data["on"]
        if on > self.today:
            raise forms.ValidationError(f"{on} lies ahead; accepted: up to {self.today}.")
        return on

    def clean(self) -> Cleaned:
        """Refuse a word of nobody where a room is ticked."""
        data = super().clean() or {}
        ticked = data.get("rooms") or data.get("whole_job")
        if ticked and not (data.get("by") or "").strip():
            message = "Nothing was typed; accepted: the name of whoever lives there and agreed."
            self.add_error("by", message)
        return data

    @property
    def word(self) -> NightsWord:
        """What was ticked and typed."""
        data = self.cleaned_data
        return NightsWord(
            rooms=[int(pk) for pk in data.get("rooms", ())],
            whole_job=data["whole_job"],
            days_off=data["days_off"],
            by=data["by"],
            on=data["on"],
        )
