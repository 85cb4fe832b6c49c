"""Figures as people read them: lengths, areas, money, hours and shares, each with its unit.

Nothing here rounds money; that is done where the price is made. Between a figure and its unit
stands a no-break space, so that the two are never parted at the end of a line.
"""

import re
from decimal import Decimal
from fractions import Fraction
from typing import Final

from jobs.domain.quantities import in_units
from layout.values import units

Number = int | float | Decimal | Fraction

NO_BREAK: Final = "\u00a0"

_IN2_PER_FT2: Final = units.INCHES_PER_FOOT**2
_SIGNS: Final = {
    "ft2": "ft²",
    "m2": "m²",
    "in2": "in²",
    "mm2": "mm²",
    "ft3": "ft³",
    "m3": "m³",
    "$/ft2": "$/ft²",
    "$/m2": "$/m²",
    "ft-in": "ft in",
}
_SQUARE_FEET: Final = re.compile(r" ft2\b")
_CURRENCY_SIGNS: Final = {"USD": "$", "CAD": "CA$", "AUD": "A$", "EUR": "€", "GBP": "£"}


def unit_sign(unit: str) -> str:
    """A unit as it is written: ft2 becomes ft², anything unknown stays as it is."""
    return _SIGNS.get(unit, unit)


def length(inches: Number | None, system: str = "imperial") -> str:
    """A length in inches as `12' 4½"` or, where the system is metric, as `3.76 m`.

    Nothing for None. Raises ValueError for an unknown unit system.
    """
    if inches is None:
        return ""
    return _held_together(units.format_length(Fraction(inches), system))


def length_mm(millimeters: Number | None, system: str = "imperial") -> str:
    """A length in millimeters, written as `length` writes it."""
    return "" if millimeters is None else length(Fraction(millimeters) / units.MM_PER_INCH, system)


def area(square_feet: Number | None, system: str = "imperial") -> str:
    """An area in square feet as `162 ft²`, or as `15.1 m²` where the system is metric.

    Nothing for None. Raises ValueError for an unknown unit system.
    """
    return "" if square_feet is None else area_in2(Fraction(square_feet) * _IN2_PER_FT2, system)


def area_in2(square_inches: Number | None, system: str = "imperial") -> str:
    """An area in square inches, written as `area` writes it."""
    if square_inches is None:
        return ""
    return _held_together(units.format_area(Fraction(square_inches), system))


def area_mm2(square_millimeters: Number | None, system: str = "imperial") -> str:
    """An area in square millimeters, written as `area` writes it."""
    if square_millimeters is None:
        return ""
    return area_in2(Fraction(square_millimeters) / units.MM_PER_INCH**2, system)


def money(amount: Decimal | int | None, currency: str = "") -> str:
    """An amount with at least two places and the sign of its currency, never rounded.

    Nothing for None. Raises TypeError for a float: money is Decimal.
    """
    if amount is None:
        return ""
    if not isinstance(amount, Decimal | int):
        raise TypeError(f"Money {amount!r} is {type(amount).__name__}; a Decimal is expected.")
    value = Decimal(amount).normalize()
    exponent = value.as_tuple().exponent
    places = max(2, -exponent) if isinstance(exponent, int) else 2
    sign = "-" if value < 0 else ""
    mark = _CURRENCY_SIGNS.get(currency, f"{currency}{NO_BREAK}" if currency else "")
    return f"{sign}{mark}{abs(value):,.{places}f}"


def in_prose(text: str) -> str:
    """A sentence of the arithmetic with its square feet as they are written: `162 ft²`."""
    return _SQUARE_FEET.sub(f"{NO_BREAK}ft²", text)


def counted(amount: Decimal | None, unit: str) -> str:
    """An amount with its unit as it is said: `1 carton`, `9 cartons`, `82`, `185.67 ft²`."""
    if amount is None:
        return ""
    number, _, word = in_units(amount, unit).partition(" ")
    return f"{number}{NO_BREAK}{unit_sign(word)}" if word else number


def hours(count: Number | None) -> str:
    """Hours to the hundredth at most: `12.5 h`. Nothing for None."""
    return "" if count is None else f"{_plain(Fraction(count), 2)}{NO_BREAK}h"


def percent(share: Number | None, places: int = 1) -> str:
    """A share of one as a percentage: 0.042 becomes `4.2%`. Nothing for None."""
    return "" if share is None else f"{_plain(Fraction(share) * 100, places)}%"


def _held_together(text: str) -> str:
    return text.replace(" ", NO_BREAK)


def _plain(value: Fraction, places: int) -> str:
    """At most so many places, half rounded up, without trailing zeros, thousands parted."""
    scale = 10**places
    rounded = Fraction(int(abs(value) * scale + Fraction(1, 2)), scale)
    text = f"{float(rounded):,.{places}f}"
    if places:
        text = text.rstrip("0").rstrip(".")
    return f"-{text}" if value < 0 and rounded else text
