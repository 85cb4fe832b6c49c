"""What the forms of money share: limits, choices, a percentage, a name."""

from __future__ import annotations

from decimal import Decimal

from django import forms
from django.core.exceptions import ValidationError

from jobs.domain.quantities import CATALOG

MATERIALS = tuple(
    (code, f"{entry.label}, per {entry.unit}".replace("per each", "each").replace("ft2", "ft²"))
    for code, entry in CATALOG.items()
    if entry.kind == "material"
)
LARGEST_AMOUNT = 99_999
LARGEST_QUANTITY = Decimal(99_999)


def percent(label: str, most: int, places: int = 2) -> forms.DecimalField:
    """Return a field of a percentage from 0 to ``most``."""
    return forms.DecimalField(label=label, min_value=0, max_value=most, decimal_places=places)


def person_name(typed: str) -> str:
    """Return the name of a person. Raises ValidationError for what can't be one."""
    name = typed.strip()
    if sum(letter.isalpha() for letter in name) < 2:
        message = f"“{name}” is no name; accepted: first and last name."
        raise ValidationError(message)
    return name
