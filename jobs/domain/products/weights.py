"""The weight of a carton as it is printed: pounds or kilograms. Pure."""

from __future__ import annotations

import re
from decimal import Decimal

from jobs.domain.figures import NO_BREAK

KG_PER_LB = Decimal("0.45359237")  # exact, NIST SP 811 (2008), appendix B.8
LEAST, MOST = Decimal("0.1"), Decimal(500)
"""Between which figures a carton's weight is believed, in the unit that is typed."""
_WEIGHT = re.compile(
    r"(?P<number>[0-9]{1,6}(?:\.[0-9]{1,4})?|\.[0-9]{1,4})\s*(?P<unit>[a-z]*)\.?", re.IGNORECASE
)
_KG_IN = dict.fromkeys(("lb", "lbs", "pound", "pounds"), KG_PER_LB) | dict.fromkeys(
    ("kg", "kilo", "kilos", "kilogram", "kilograms"), Decimal(1)
)
_UNIT = {"imperial": "lb", "metric": "kg"}


def kilograms_typed(text: str, system: str) -> Decimal | None:
    """Return what a typed weight means to the hundredth of a kilogram; None where it is none."""
    match = _WEIGHT.fullmatch(text.strip())
    if match is None:
        return None
    unit = match["unit"].lower() or _UNIT[system]
    number = Decimal(match["number"])
    if unit not in _KG_IN or not LEAST <= number <= MOST:
        return None
    return round(number * _KG_IN[unit], 2)


def pounds(kg: Decimal) -> Decimal:
    """Return kilograms in pounds."""
    return kg / KG_PER_LB


def kilograms(lb: Decimal) -> Decimal:
    """Return pounds in kilograms, to the hundredth in which rows keep them."""
    return round(lb * KG_PER_LB, 2)


def weight_as_typed(text: str, kg: Decimal, system: str) -> str:
    """Return a weight as it was typed, with its unit; rounded where the text is another weight."""
    if kilograms_typed(text, system) != kg:
        return weight_words(kg, system)
    match = _WEIGHT.fullmatch(text.strip())
    return f"{match['number']}{NO_BREAK}{match['unit'] or _UNIT[system]}" if match else ""


def weight_words(kg: Decimal, system: str) -> str:
    """Return a weight to the tenth of a pound or a kilogram."""
    number = kg if system == "metric" else pounds(kg)
    return f"{round(number, 1).normalize():f}{NO_BREAK}{_UNIT[system]}"
