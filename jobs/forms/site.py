"""The forms of the visit's figures: depths of a low subfloor, moisture readings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Unpack

from django import forms
from django.core.exceptions import ValidationError
from django.http import QueryDict

from jobs.domain.site.leveling import MOST_READINGS, Depth, SurveyError, read_depths
from jobs.domain.site.moisture import METHODS, MOST_VALUE, out_of_range
from jobs.forms.base import (
    Cleaned,
    Data,
    LengthField,
    NumberField,
    OnceForm,
    PlainForm,
    VersionedForm,
    VersionedOptions,
    text_field,
)
from jobs.models import (
    ExistingFloor,
    LayerBelow,
    OldAdhesive,
    OtherBath,
    PaintedBase,
    Room,
    Subfloor,
)
from jobs.models.old_floors.old_floor import AS_THE_HOUSE, BEFORE_FIELDS

BLANK_ROWS = 3
MOST_TAKEN = 120
"""How many moisture readings the office lists for one job; a day's log may bring more."""


def _typed(label: str) -> forms.CharField:
    return forms.CharField(label=label, required=False, max_length=40)


class DepthForm(PlainForm):
    """One reading: where, and how far the subfloor lies low. Left empty, it is left out."""

    x = _typed("Along the first wall")
    y = _typed("Square to it")
    depth = _typed("Low by")

    def clean(self) -> Cleaned:
        """Refuse a row that is filled in only in part."""
        data = super().clean() or {}
        given = [name for name in ("x", "y", "depth") if data.get(name)]
        if given:
            for name in {"x", "y", "depth"} - set(given):
                message = "Nothing was typed; accepted: a length, 0, or the row left empty."
                self.add_error(name, message)
        return data

    @property
    def typed(self) -> dict[str, str] | None:
        """What the row says, as typed; None for an empty one."""
        data = {name: self.cleaned_data.get(name, "") for name in ("x", "y", "depth")}
        return data if all(data.values()) else None


class DepthsForm(VersionedForm):
    """Carries key and version of the room whose depths are noted."""


class DepthSheet:
    """The depth survey of a room, as sent or as stored, with a few rows to fill in."""

    def __init__(self, data: QueryDict | None, *, room: Room) -> None:
        self.room = room
        self.form = DepthsForm(data, version=room.version)
        stored: Sequence[Mapping[str, object]] = room.depths
        shown: list[Mapping[str, object]] = [*stored, *({} for _ in range(BLANK_ROWS))]
        count = len(shown) if data is None else _sent(data)
        self.rows = [
            DepthForm(
                data,
                prefix=f"depth-{i}",
                initial=shown[i] if data is None else {},
                units=room.job.units,
            )
            for i in range(min(count, MOST_READINGS))
        ]
        self.depths: tuple[Depth, ...] = ()

    @property
    def status(self) -> int:
        """The status of the page: 200 fresh, 409 overtaken, 422 refused."""
        return 409 if self.form.overtaken else max(f.status for f in (self.form, *self.rows))

    @property
    def typed(self) -> list[dict[str, str]]:
        """The readings as typed."""
        return [form.typed for form in self.rows if form.typed]

    def is_valid(self) -> bool:
        """Whether every reading can be used; a fault becomes an error at its row."""
        valid = self.form.is_valid()
        if not all(form.is_valid() for form in self.rows):
            return False
        filled = [form for form in self.rows if form.typed]
        ring = tuple((float(x), float(y)) for x, y in self.room.outline)
        try:
            self.depths = read_depths(self.typed, ring, unit=self.room.job.unit)
        except SurveyError as fault:
            filled[fault.row].add_error(fault.field, fault.sentence)
            return False
        return valid


class ReadingForm(VersionedForm):
    """One moisture reading more."""

    method = forms.ChoiceField(
        label="Method", choices=[(code, method.label) for code, method in METHODS.items()]
    )
    value = NumberField(label="Reading", least=Decimal(0), most=MOST_VALUE)
    where = forms.CharField(label="Where", required=False, max_length=60)
    on = forms.DateField(
        label="Taken on",
        required=False,
        widget=forms.DateInput(attrs={"type": "date"}),
        error_messages={"invalid": "This is no date; accepted: year-month-day, or left empty."},
    )

    def __init__(
        self,
        data: Data = None,
        *,
        today: date,
        standing: int = 0,
        **options: Unpack[VersionedOptions],
    ) -> None:
        """``standing``: how many readings the job has."""
        super().__init__(data, **options)
        self.today, self.standing = today, standing

    def clean(self) -> Cleaned:
        """Refuse a value that no reading by this method has, and one more than can be looked over.

        None is dropped without a word.
        """
        data: Cleaned = super().clean() or self.cleaned_data
        method, value = data.get("method"), data.get("value")
        if method and value is not None and (said := out_of_range(method, value)):
            self.add_error("value", said)
        if self.standing >= MOST_TAKEN:
            raise forms.ValidationError(
                f"This job has {self.standing} readings; accepted: up to {MOST_TAKEN}. "
                "Remove those that no longer count, then add this one."
            )
        return data

    def clean_on(self) -> date | None:
        """Refuse a reading from the future."""
        on: date | None = self.cleaned_data["on"]
        if on is not None and on > self.today:
            raise forms.ValidationError(f"{on} lies ahead; accepted: up to {self.today}.")
        return on


def _sent(data: QueryDict) -> int:
    try:
        return max(0, int(data.get("depth-rows", "0")))
    except ValueError:
        return 0


class SiteForm(VersionedForm):
    """What the visit found."""

    year_built = forms.IntegerField(label="Year built", required=False, min_value=1600)
    existing_floor = forms.ChoiceField(
        label="Floor that is down now", choices=ExistingFloor.choices
    )
    floor_year = forms.IntegerField(
        label="Year that floor was put in", required=False, min_value=1600
    )
    tear_out = forms.BooleanField(label="Take the old floor out", required=False)
    subfloor = forms.ChoiceField(label="Subfloor", choices=Subfloor.choices)
    accessible_route = forms.BooleanField(
        label="An accessible route passes here",
        required=False,
        help_text="Level changes are then held to the accessible limits.",
    )
    bag_fills_ft3 = NumberField(
        label="A bag of leveler fills",
        least=Decimal("0.05"),
        most=Decimal(5),
        help_text="The bag says it.",
    )
    heated_floor = forms.BooleanField(label="Heated floor", required=False)
    painted_ft2_per_room = forms.DecimalField(
        label="Painted surface disturbed in one room, its base aside",
        min_value=0,
        max_digits=7,
        decimal_places=2,
        help_text="Casings, doors, walls. Base that comes off is counted from its runs.",
    )
    flights = forms.IntegerField(label="Flights of stairs to carry", min_value=0, max_value=60)
    fire_door = forms.BooleanField(label="Fire-rated or self-closing door", required=False)
    gas_appliance = forms.BooleanField(label="Gas appliance on this floor", required=False)
    grinding = forms.BooleanField(
        label="Concrete, stone or tile will be cut or ground", required=False
    )
    other_bath = forms.ChoiceField(
        label="Another bathroom can be used meanwhile",
        choices=OtherBath.choices,
        required=False,
        help_text="The only one is opened on the day that lays it. Not known: it is.",
    )
    access = text_field("Door code, keys", 2000, rows=3)
    aquarium = text_field("Aquarium: which and where", 120)
    piano = text_field("Piano: which and where", 120)
    electronics = text_field("Electronics: which and where", 200)
    pets = text_field("Pets: which, and where they are kept", 200)
    parking = text_field("Parking", 200)
    saw_spot = text_field("Where the saw stands", 200)
    power = text_field("Power for the saw", 200)
    disposal_place = text_field("Where waste goes", 200)

    def __init__(
        self, data: Data = None, *, today: date, **options: Unpack[VersionedOptions]
    ) -> None:
        super().__init__(data, **options)
        self.today = today

    def clean_other_bath(self) -> str:
        """Return what is known; nothing said is not known."""
        return self.cleaned_data["other_bath"] or OtherBath.UNKNOWN

    def clean_year_built(self) -> int | None:
        """Refuse a house from the future."""
        return not_ahead(self.cleaned_data["year_built"], self.today)

    def clean_floor_year(self) -> int | None:
        """Refuse a floor from the future."""
        return not_ahead(self.cleaned_data["floor_year"], self.today)


def not_ahead(year: int | None, today: date) -> int | None:
    """Return a year; refuse one that lies ahead."""
    if year is not None and year > today.year + 1:
        message = f"{year} lies ahead; accepted: 1600 to {today.year + 1}."
        raise ValidationError(message)
    return year


class BeforeForm(VersionedForm):
    """What was in one room before the work."""

    old_floor = forms.ChoiceField(
        label="Floor that is down now",
        choices=[AS_THE_HOUSE, *ExistingFloor.choices],
        required=False,
    )
    old_floor_year = forms.IntegerField(
        label="Year that floor was put in",
        required=False,
        min_value=1600,
        help_text="Left empty: as old as the house may be.",
    )
    layer_below = forms.ChoiceField(label="What lies below it", choices=LayerBelow.choices)
    old_adhesive = forms.ChoiceField(label="How it is glued", choices=OldAdhesive.choices)
    lies_on = forms.ChoiceField(
        label="Subfloor", choices=[AS_THE_HOUSE, *Subfloor.choices], required=False
    )
    painted_base = forms.ChoiceField(label="Is the base painted?", choices=PaintedBase.choices)
    base_height = LengthField(
        label="Height of the base",
        required=False,
        most_mm=Decimal(600),
        help_text="Left empty: counted as 5¼ in, 133 mm.",
    )

    def __init__(
        self, data: Data = None, *, today: date, **options: Unpack[VersionedOptions]
    ) -> None:
        super().__init__(data, **options)
        self.today = today

    def clean_old_floor_year(self) -> int | None:
        """Refuse a floor from the future."""
        return not_ahead(self.cleaned_data["old_floor_year"], self.today)

    def clean(self) -> Cleaned:
        """Refuse a year of a floor that nobody names."""
        data: Cleaned = super().clean() or self.cleaned_data
        if data.get("old_floor_year") is not None and not data.get("old_floor"):
            self.add_error("old_floor_year", "Say which floor is down here, then its year.")
        return data

    @property
    def values(self) -> Cleaned:
        """What was typed, by the columns of the room."""
        data = dict(self.cleaned_data)
        height = data.pop("base_height")
        kept = {name: data[name] for name in BEFORE_FIELDS if name != "base_height_mm"}
        return kept | {"base_height_mm": height.mm if height else None}


class ClearHoldForm(OnceForm):
    """The word of a named person that work may go on."""

    by = text_field("Cleared by, name", 120, required=True)
    note = text_field("What was found, certificate or test number", 1000, rows=3, required=True)
