"""What the forms of money share: limits, choices, a percentage, a name."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from django import forms
from django.core.exceptions import ValidationError

from estimates.domain.terms.job_terms import MOST_TAX_PERCENT
from jobs.domain.checks import ZERO
from jobs.domain.quantities import CATALOG
from jobs.forms.base import NumberField

MATERIALS = tuple(
    (code, f"{entry.label}, per {entry.unit}".replace("per each", "each").replace("ft2", "ft²"))
    for code, entry in CATALOG.items()
    if entry.kind == "material"
)
TAX_PERCENTS = ("state_percent", "county_percent", "city_percent")
LARGEST_AMOUNT = 99_999
LARGEST_QUANTITY = Decimal(99_999)


def percent(label: str, most: int, places: int = 2) -> forms.DecimalField:
    """Return a field of a percentage from 0 to ``most``."""
    return forms.DecimalField(label=label, min_value=0, max_value=most, decimal_places=places)


def tax_percents() -> tuple[NumberField, NumberField, NumberField]:
    """Return the fields of sales tax by state, county and city."""
    state, county, city = (
        NumberField(
            label=f"{who} tax, %",
            least=Decimal(0),
            most=MOST_TAX_PERCENT,
            places=3,
            initial=Decimal(0),
            widget=forms.TextInput(attrs={"inputmode": "decimal"}),
        )
        for who in ("State", "County", "City")
    )
    return state, county, city


def tax_refused(percents: Mapping[str, Decimal | None]) -> str:
    """Return why rates can't be used that come to more than tax can be; empty where they can."""
    whole = sum((percents.get(name) or ZERO for name in TAX_PERCENTS), ZERO)
    if whole <= MOST_TAX_PERCENT:
        return ""
    accepted = f"accepted: up to {MOST_TAX_PERCENT}% for all three"
    return f"{whole.normalize():f}% together can't be used; {accepted}."


def person_name(typed: str) -> str:
    """Return the name of a person. Raises ValidationError for what can't be one."""
    name = typed.strip()
    if sum(letter.isalpha() for letter in name) < 2:
        message = f"“{name}” is no name; accepted: first and last name."
        raise ValidationError(message)
    return name
