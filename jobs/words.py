"""Lengths of the rows, kept in millimeters, in the units of people and of the core. Pure."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from jobs import figures

MM_PER_INCH = Fraction(254, 10)  # exact, NIST SP 811 (2008), appendix B.8
MM2_PER_FT2 = (12 * MM_PER_INCH) ** 2
_PLACES = Decimal("0.000001")


def millimeters(length: Fraction) -> Decimal:
    """Return a length in millimeters to the six places in which rows keep it."""
    return (Decimal(length.numerator) / Decimal(length.denominator)).quantize(_PLACES)


def mm_in(mm: Decimal, unit: str) -> float:
    """Return millimeters in the layout core's unit, ``in`` or ``mm``."""
    exact = Fraction(mm)
    return float(exact if unit == "mm" else exact / MM_PER_INCH)


def mm_from(value: float, unit: str) -> Decimal:
    """Return a length of the layout core in millimeters, to six places."""
    exact = Fraction(value)
    return millimeters(exact if unit == "mm" else exact * MM_PER_INCH)


def length_words(mm: Decimal, system: str) -> str:
    """Return millimeters as people of that unit system read a length."""
    return figures.length(Fraction(mm) / MM_PER_INCH, system)


def core_length_words(value: float, unit: str) -> str:
    """Return a length of the layout core in words."""
    return length_words(mm_from(value, unit), system_of(unit))


def core_area_words(value: float, unit: str) -> str:
    """Return an area of the layout core in words."""
    return figures.area(square_feet(value, unit), system_of(unit))


def square_feet(value: float, unit: str) -> Fraction:
    """Return an area of the layout core in square feet."""
    return Fraction(value) / (MM2_PER_FT2 if unit == "mm" else 144)


def system_of(unit: str) -> str:
    """Return the unit system of the layout core's unit."""
    return "metric" if unit == "mm" else "imperial"
