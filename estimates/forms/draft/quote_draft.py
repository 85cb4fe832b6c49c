"""What is typed about the next quote: how the price is told, the floor, choices, days, pictures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from django import forms

from estimates.models import PriceTold, QuoteDraft, SoldWhere
from estimates.readers.draft.ways import OfferedWay
from jobs.forms.base import Data, OnceForm, VersionedForm, text_field
from jobs.models import RoomNote

LONGEST_EXCLUSIONS = 4000
NO_UNITS = (
    "This job has no price by the unit; accepted: one price or a price for each room. The rate "
    "card, or the payer's unit prices, make one."
)


def _day(label: str) -> forms.DateField:
    return forms.DateField(
        label=label, required=False, widget=forms.DateInput(attrs={"type": "date"})
    )


class QuoteDraftForm(VersionedForm):
    """The draft of a job's next quote. What a choice is called and says may be left to us."""

    detail = forms.ChoiceField(
        label="How the price is told", choices=PriceTold.choices, widget=forms.RadioSelect
    )
    sold_where = forms.ChoiceField(
        label="Where it is agreed",
        choices=SoldWhere.choices,
        required=False,
        help_text="A sale at home of $25 or more, or elsewhere of $130, may be canceled.",
    )
    color = text_field("Color of the floor", 80)
    sample_on = _day("Sample seen on")
    start_week = _day("A day of the week you start in")
    days_note = text_field("What else the homeowner should know of the days", 400, rows=2)
    exclusions = text_field("Not in this price, one a line", LONGEST_EXCLUSIONS, rows=5)
    first_name = text_field("Name of the first choice", 60)
    first_text = text_field("What follows from the first choice", 400, rows=2)
    second_way = forms.ChoiceField(label="Second choice", required=False)
    second_name = text_field("Name of the second choice", 60)
    second_text = text_field("What follows from the second choice", 400, rows=2)
    third_way = forms.ChoiceField(label="Third choice", required=False)
    third_name = text_field("Name of the third choice", 60)
    third_text = text_field("What follows from the third choice", 400, rows=2)
    photos = forms.TypedMultipleChoiceField(
        label="Photographs on the quote, four at most",
        required=False,
        coerce=int,
        widget=forms.CheckboxSelectMultiple,
    )

    def __init__(
        self,
        data: Data = None,
        *,
        row: QuoteDraft,
        today: date,
        ways: Mapping[str, OfferedWay],
        notes: Sequence[RoomNote],
        by_unit: bool,
        exclusions: str,
    ) -> None:
        initial = {name: getattr(row, name) for name in type(self).base_fields if name in _NAMES}
        initial["exclusions"] = row.exclusions or exclusions
        super().__init__(data, initial=initial, version=row.version)
        self.today, self.by_unit, self.of_company = today, by_unit, exclusions
        offered = [(way.key, way.listed) for way in ways.values()]
        self._offer("second_way", "No second choice", offered)
        self._offer("third_way", "No third choice", offered)
        photos = self.fields["photos"]
        if isinstance(photos, forms.TypedMultipleChoiceField):
            photos.choices = [(note.pk, _photo_words(note)) for note in notes]

    def _offer(self, name: str, none: str, offered: Sequence[tuple[str, str]]) -> None:
        """Let a choice be one of the ways that are offered; one that was chosen stays shown."""
        field = self.fields[name]
        if isinstance(field, forms.ChoiceField):
            field.choices = [("", none), *offered]
            field.error_messages["invalid_choice"] = (
                "This job doesn't offer that any more; accepted: one of the list, or none."
            )

    @property
    def names_choices(self) -> bool:
        """Whether anything is typed of what the choices are called and say."""
        return any(self[name].value() for name in _CHOICE_WORDS)

    def clean_detail(self) -> str:
        """Refuse a price by the unit where there is none."""
        detail = str(self.cleaned_data["detail"])
        if detail == PriceTold.UNIT and not self.by_unit:
            raise forms.ValidationError(NO_UNITS)
        return detail

    def clean_sold_where(self) -> str:
        """Return where it is agreed; at the home where nobody says."""
        return str(self.cleaned_data["sold_where"] or SoldWhere.HOME)

    def clean_sample_on(self) -> date | None:
        """Refuse a day that is still to come."""
        day: date | None = self.cleaned_data["sample_on"]
        if day and day > self.today:
            raise forms.ValidationError(
                f"{day} is still to come; accepted: {self.today} or before."
            )
        return day

    def clean_start_week(self) -> date | None:
        """Refuse a day that is over."""
        day: date | None = self.cleaned_data["start_week"]
        if day and day < self.today:
            raise forms.ValidationError(f"{day} is over; accepted: {self.today} or later.")
        return day

    def clean_exclusions(self) -> str:
        """Return what differs from the company's own; empty where nothing does."""
        typed = str(self.cleaned_data["exclusions"]).replace("\r\n", "\n").strip()
        return "" if typed == self.of_company.strip() else typed

    def clean_photos(self) -> list[int]:
        """Refuse more photographs than a quote has room for."""
        ticked: list[int] = self.cleaned_data["photos"]
        if len(ticked) > QuoteDraft.MOST_PHOTOS:
            message = f"{len(ticked)} are ticked; accepted: {QuoteDraft.MOST_PHOTOS} at most."
            raise forms.ValidationError(message)
        return ticked

    def clean(self) -> dict[str, object]:
        """Refuse a way that is chosen twice; a third without a second is the second."""
        typed: dict[str, object] = super().clean() or self.cleaned_data
        if typed.get("third_way") and typed.get("third_way") == typed.get("second_way"):
            self.add_error(
                "third_way", "That is the second choice already; choose another, or none."
            )
        elif typed.get("third_way") and not typed.get("second_way"):
            for part in ("way", "name", "text"):
                typed[f"second_{part}"] = typed.get(f"third_{part}", "")
                typed[f"third_{part}"] = ""
        return typed


_NAMES = frozenset(QuoteDraftForm.base_fields) - {"key", "version"}


_CHOICE_WORDS = (
    *("first_name", "first_text", "second_name", "second_text"),
    *("third_name", "third_text"),
)


def _photo_words(note: RoomNote) -> str:
    return f"{note.room.name}: {note.text}" if note.text else f"{note.room.name}, without words"


class IssueDraftForm(OnceForm):
    """The word to issue what was looked at: its fingerprint, and the key that counts it once."""

    seen = forms.CharField(max_length=64, widget=forms.HiddenInput)
