"""Fields of a product: sizes and weights as a carton prints them, shades and how many of each."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Unpack

from django import forms
from django.core.exceptions import ValidationError

from jobs.domain.products.weights import LEAST, MOST, kilograms_typed
from jobs.forms.base import FieldOptions, LengthField, NumberField
from jobs.models import Product, UnitSystem

_VARIANT = re.compile(r"(?P<name>.*?\S)\s*[:=]?\s+(?P<count>\d{1,4})")
_RULE_MM = Decimal(7620)
LEAST_LENGTH_MM, LONGEST_MM = Decimal("101.6"), Decimal(7620)
LEAST_WIDTH_MM, WIDEST_MM = Decimal("12.7"), Decimal(1524)
LEAST_THICK_MM, THICKEST_MM = Decimal(1), Decimal(60)


class SizeField(LengthField):
    """A size as a carton prints it: inches in decimals or fractions, or millimeters."""

    def accepted(self) -> str:
        """Return what can be typed, in words."""
        if self.system == UnitSystem.METRIC:
            return "accepted: 192 mm, 192.5 (millimeters, with a point), or 7 1/2 in"
        return "accepted: 7\", 7 1/16, 7.05 (inches, with a point), 4' or 192 mm"


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedWeight:
    """A weight as it was typed, and what it means in kilograms."""

    text: str
    kg: Decimal


class WeightField(forms.CharField):
    """A weight with its unit, or a bare number in the unit of ``system``: pounds, kilograms."""

    def __init__(self, **options: Unpack[FieldOptions]) -> None:
        self.system: str = UnitSystem.IMPERIAL
        super().__init__(max_length=40, **options)

    def accepted(self) -> str:
        """Return what can be typed, in words."""
        first, then = ("14.5 kg", "32 lb") if self._metric else ("32 lb", "14.5 kg")
        return f"accepted: a weight such as {first} or {then}, from {LEAST} to {MOST}"

    @property
    def _metric(self) -> bool:
        return self.system == UnitSystem.METRIC

    def clean(self, value: object) -> TypedWeight | None:
        """Return the typed weight. Raises ValidationError with the value and what is accepted."""
        text = super().clean(value)
        if not text:
            return None
        kg = kilograms_typed(text, self.system)
        if kg is None:
            raise ValidationError(f"“{text}” can't be used; {self.accepted()}.")
        return TypedWeight(text=text, kg=kg)


class VariantsField(forms.CharField):
    """Prints or shades and how many boards of each a carton holds; cleans to a mapping."""

    def prepare_value(self, value: object) -> object:
        """Return what could have been typed."""
        if isinstance(value, dict):
            return ", ".join(f"{name} {count}" for name, count in value.items())
        return value

    def clean(self, value: object) -> dict[str, int]:
        """Return counts by name. Raises ValidationError naming what can't be read."""
        counts: dict[str, int] = {}
        for part in filter(str.strip, re.split(r"[,;\n]", super().clean(value))):
            match = _VARIANT.fullmatch(part.strip())
            name = match["name"].rstrip(":= ") if match else ""
            if match is None or not name or not int(match["count"]):
                message = f"“{part.strip()}” can't be used; accepted: a name and a number, such as"
                raise forms.ValidationError(f"{message} A 4, B 3, C 3.")
            if name in counts:
                raise forms.ValidationError(f"“{name}” stands twice; accepted: each name once.")
            counts[name] = int(match["count"])
        return counts


def choices_of(name: str) -> Sequence[tuple[str, str]]:
    """Return the choices of a product's field."""
    field = Product._meta.get_field(name)  # noqa: SLF001  public by Django's documentation
    return list(getattr(field, "choices", None) or ())


def rule_field(label: str, help_text: str, *, required: bool = True) -> LengthField:
    """Return a field for a rule that may be zero."""
    return SizeField(
        label=label, help_text=help_text, least_mm=Decimal(0), most_mm=_RULE_MM, required=required
    )


def reading_field(label: str, help_text: str, most: int) -> NumberField:
    """Return a field for a moisture limit that need not be known."""
    return NumberField(
        label=label,
        help_text=help_text,
        required=False,
        least=Decimal("0.1"),
        most=Decimal(most),
        places=1,
    )
