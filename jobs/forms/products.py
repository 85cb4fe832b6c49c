"""The form of a plank product: its board, its carton and the rules that come with it."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django import forms

from jobs.forms.base import LengthField, NameField, NumberField, VersionedForm, WholeField
from jobs.models import Core, LockType, StaggerRule, UnitSystem
from jobs.words import length_words

KG_PER_LB = Decimal("0.45359237")  # exact, NIST SP 811 (2008), appendix B.8
_ZERO = Decimal(0)
_RULE_MM = Decimal(7620)
PARTS = {StaggerRule.FREE: 2, StaggerRule.HALF: 2, StaggerRule.THIRD: 3}

# Common practice, no source: what stands in a new product until the maker's sheet says otherwise.
DEFAULTS: Mapping[str, Mapping[str, str]] = {
    UnitSystem.IMPERIAL: {
        "gap": '1/4"',
        "saw_kerf": '1/8"',
        "min_end": '8"',
        "min_offset": '8"',
        "min_row": '2"',
    },
    UnitSystem.METRIC: {
        "gap": "6 mm",
        "saw_kerf": "3 mm",
        "min_end": "200 mm",
        "min_offset": "200 mm",
        "min_row": "50 mm",
    },
}
LENGTHS = (
    *("length", "width", "thickness"),
    *("gap", "saw_kerf", "min_end", "min_offset", "min_row", "max_run"),
)


def _rule(label: str, help_text: str, **kwargs: Any) -> LengthField:
    """Return a field for a rule that may be nought."""
    return LengthField(label=label, help_text=help_text, least_mm=_ZERO, most_mm=_RULE_MM, **kwargs)


class ProductForm(VersionedForm):
    """A plank product. Bare numbers are in the units of its own sheet."""

    name = NameField(label="Name", max_length=120)
    measured_in = forms.ChoiceField(label="Units of its sheet", choices=UnitSystem.choices)
    core = forms.ChoiceField(label="Core", choices=Core.choices)
    length = LengthField(
        label="Board length, laid",
        help_text="Laid cover: join ten boards, measure face to face, divide by ten.",
        least_mm=Decimal("101.6"),
        most_mm=Decimal(7620),
    )
    width = LengthField(
        label="Board width, laid",
        help_text="Laid cover, never the tongue.",
        least_mm=Decimal("12.7"),
        most_mm=Decimal(1524),
    )
    thickness = LengthField(label="Thickness", least_mm=Decimal(1), most_mm=Decimal(60))
    per_carton = WholeField(label="Boards in a carton", least=1, most=1000)
    carton_weight = NumberField(
        label="Carton weight",
        required=False,
        least=Decimal("0.1"),
        most=Decimal(500),
        help_text="In pounds, or in kilograms for a metric sheet.",
    )
    attached_pad = forms.BooleanField(label="Pad attached to the board", required=False)
    lock = forms.ChoiceField(label="How boards join", choices=LockType.choices)
    gap = _rule("Gap at walls", "Left open at every wall, pipe and post.")
    saw_kerf = _rule("Saw kerf", "Lost between two pieces of one board; 0 for score and snap.")
    min_end = _rule("Shortest end piece", "First and last piece of a row.")
    min_offset = _rule("Least offset of end joints", "Between rows that touch.")
    min_row = _rule("Narrowest row", "The narrowest strip left at a wall.")
    stagger = forms.ChoiceField(
        label="Step of end joints",
        choices=StaggerRule.choices,
        help_text="Free unless the maker asks for a fixed step.",
    )
    max_run = LengthField(
        label="Longest run without a break", required=False, least_mm=Decimal(1000)
    )
    acclimatise_hours = WholeField(
        label="Hours in the room before laying",
        least=0,
        most=336,
        help_text="Wood cores commonly 24 to 48, rigid cores often none.",
    )
    moisture_limit = forms.CharField(
        label="Moisture limit of the maker", required=False, max_length=80
    )
    rules_source = NameField(
        label="Where the rules come from",
        max_length=160,
        help_text="The maker's sheet and its edition, a standard, or our default.",
    )
    retired = forms.BooleanField(label="No longer offered", required=False)

    @property
    def values(self) -> dict[str, Any]:
        """The cleaned values under the names of the product's fields."""
        data = self.cleaned_data
        plain = ("name", "core", "per_carton", "attached_pad", "lock", "stagger")
        told = ("acclimatise_hours", "moisture_limit", "rules_source")
        values = {name: data[name] for name in (*plain, *told)}
        values |= {f"{name}_mm": data[name].mm if data[name] else None for name in LENGTHS}
        weight = data["carton_weight"]
        if weight is not None and self.units == UnitSystem.IMPERIAL:
            weight = round(weight * KG_PER_LB, 2)
        return {**values, "units": data["measured_in"], "carton_weight_kg": weight}

    def clean(self) -> dict[str, Any]:
        """Refuse sizes and rules that contradict each other."""
        data = super().clean() or {}
        self._below("width", "length", "The board is wider than long", strict=False)
        self._below("min_end", "length", "An end piece this long is the whole board")
        self._below("min_row", "width", "A row this wide is the whole board")
        length, offset = data.get("length"), data.get("min_offset")
        parts = PARTS.get(StaggerRule(data.get("stagger") or StaggerRule.FREE), 2)
        if length and offset and offset.mm > length.mm / parts:
            most = length_words(length.mm / parts, self.units)
            told = f"“{offset.text}” leaves no place for the joints of this board"
            self.add_error("min_offset", f"{told}; accepted: up to {most}.")
        return data

    def _below(self, name: str, bound: str, fault: str, *, strict: bool = True) -> None:
        """Refuse the length ``name`` where it is not below the length ``bound``."""
        value, most = self.cleaned_data.get(name), self.cleaned_data.get(bound)
        if not value or not most:
            return
        if value.mm > most.mm or (strict and value.mm == most.mm):
            limit = length_words(most.mm, self.units)
            word = "less than" if strict else "up to"
            self.add_error(name, f"{fault}: “{value.text}”; accepted: {word} {limit}.")


def sheet_units(data: Mapping[str, Any] | None, otherwise: str) -> str:
    """Return the unit system that was chosen in a sent form, else ``otherwise``."""
    chosen = str((data or {}).get("measured_in", ""))
    return chosen if chosen in UnitSystem.values else otherwise
