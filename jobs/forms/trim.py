"""Forms of a run of trim and of the lengths that trim is bought in."""

from __future__ import annotations

from decimal import Decimal
from typing import Unpack

from django import forms
from django.core.exceptions import ValidationError

from jobs.domain.lengths import length_typed
from jobs.forms.base import Data, LengthField, VersionedForm, VersionedOptions
from jobs.models import BaseTreatment, Job, TrimKind, TrimRun
from jobs.readers.trim import END_WORDS, action_of, material_for, stock_mm, swells

LEAST_STOCK_MM = Decimal(600)
MOST_STOCK_MM = Decimal(7500)
MOST_STOCKS = 8


class TrimRunForm(VersionedForm):
    """One run of base or shoe: its length, its ends, what happens to it."""

    length = LengthField(label="Length of the run", help_text="Along the wall, corner to corner.")
    start_end = forms.ChoiceField(label="Where it begins", choices=list(END_WORDS.items()))
    finish_end = forms.ChoiceField(label="Where it ends", choices=list(END_WORDS.items()))
    action = forms.ChoiceField(label="What is done", required=False)
    profile = forms.CharField(
        label="Profile and material", required=False, max_length=80, help_text=""
    )
    left_out = forms.BooleanField(label="Leave this run out", required=False)

    def __init__(
        self, data: Data = None, *, run: TrimRun, **options: Unpack[VersionedOptions]
    ) -> None:
        super().__init__(data, **options)
        self.run = run
        action, as_room = self.fields["action"], TrimRun(room=run.room, kind=run.kind)
        word = BaseTreatment(action_of(as_room)).label
        if isinstance(action, forms.ChoiceField):
            kept = [choice for choice in BaseTreatment.choices if choice[0] != "none"]
            action.choices = [("", f"As the room: {word}"), *kept]
        self.fields["profile"].help_text = f"Empty: {material_for(run.room)}, by the room."

    def clean_profile(self) -> str:
        """Return the profile. Raises ValidationError where it would swell in this room."""
        profile = str(self.cleaned_data["profile"]).strip()
        if swells(profile, self.run.room):
            wet = self.run.room.get_moisture_display().lower()
            message = f"“{profile}” swells: {self.run.room} is {wet}; accepted: no wood."
            raise ValidationError(message)
        return profile

    @property
    def values(self) -> dict[str, object]:
        """The cleaned values under the names of the run's fields."""
        names = ("start_end", "finish_end", "action", "profile", "left_out")
        values = {name: self.cleaned_data[name] for name in names}
        return values | {"length_mm": self.cleaned_data["length"].mm}


class AddedRunForm(TrimRunForm):
    """A run that follows no wall: base or shoe, and what it runs along."""

    kind = forms.ChoiceField(label="Kind of trim", choices=TrimKind.choices)
    beside = forms.CharField(
        label="What it runs along",
        max_length=TrimRun.LONGEST_BESIDE,
        help_text="A hearth, an island, a column: whatever has no wall of its own.",
    )

    def __init__(
        self, data: Data = None, *, run: TrimRun, **options: Unpack[VersionedOptions]
    ) -> None:
        super().__init__(data, run=run, **options)
        self.fields["length"].help_text = "All round, as long as it is."
        self.order_fields(["kind", "beside"])

    @property
    def values(self) -> dict[str, object]:
        """The cleaned values under the names of the run's fields."""
        return super().values | {name: self.cleaned_data[name] for name in ("kind", "beside")}


class TrimStockForm(VersionedForm):
    """The lengths that the trim of a job is bought in, between commas."""

    stock = forms.CharField(label="Lengths the store has", required=False, max_length=200)

    def __init__(self, data: Data = None, **options: Unpack[VersionedOptions]) -> None:
        super().__init__(data, **options)
        usual = "2.4 m, 3.6 m" if self.units == "metric" else "8', 12', 16'"
        self.fields["stock"].help_text = f"Between commas. Empty: the usual ones, {usual}."

    def clean_stock(self) -> list[Decimal]:
        """Return the lengths in mm, each once, the shortest first. Raises ValidationError."""
        field = LengthField(system=self.units, least_mm=LEAST_STOCK_MM, most_mm=MOST_STOCK_MM)
        texts = [text.strip() for text in str(self.cleaned_data["stock"]).split(",")]
        lengths = {length.mm for text in texts if text and (length := field.clean(text))}
        if len(lengths) > MOST_STOCKS:
            message = f"{len(lengths)} lengths were typed; accepted: up to {MOST_STOCKS}."
            raise ValidationError(message)
        return sorted(lengths)


def stock_typed(job: Job) -> str:
    """Return the stock lengths of a job as they could be typed; empty where they are the usual."""
    if not job.trim_stock:
        return ""
    return ", ".join(length_typed(length, job.units) for length in stock_mm(job))
