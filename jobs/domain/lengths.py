"""Lengths of the rows, kept in millimeters, in the units of people and of the core. Pure."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from jobs.domain import figures
from layout.values.units import INCHES_PER_FOOT, MM_PER_INCH, format_length

MM_PER_IN = Decimal(MM_PER_INCH.numerator) / MM_PER_INCH.denominator
MM2_PER_IN2 = MM_PER_IN**2
IN_PER_FT = Decimal(INCHES_PER_FOOT)
IN2_PER_FT2 = IN_PER_FT**2
MM2_PER_FT2 = (INCHES_PER_FOOT * MM_PER_INCH) ** 2
ROUNDING_MM = Decimal("0.25")
"""By how much two measured lengths may differ and still be one: rounding, not a fault."""
_PLACES = Decimal("0.000001")
_ROUNDING = Fraction(1, 10**7)  # of an inch: what keeping six places of a millimeter may lose


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


def size_words(mm: Decimal, system: str) -> str:
    """Return the size of a plank as it is named: never rounded, as `length_words` would.

    A size off a tape's sixteenths is told in decimals, 7.05 in, or in millimeters, 192 mm.
    """
    inches, plain = Fraction(mm) / MM_PER_INCH, f"{Decimal(mm).normalize():f}"
    if system == "metric":
        whole = Fraction(mm).denominator == 1
        return length_words(mm, system) if whole else f"{plain}{figures.NO_BREAK}mm"
    if _is_near(inches, 16):
        return length_words(mm, system)
    for places in (64, 10**4):
        if _is_near(inches, places):
            return _off_the_tape(inches, places)
    return f"{plain}{figures.NO_BREAK}mm"


def _is_near(inches: Fraction, parts: int) -> bool:
    """Whether a length is one of so many parts of an inch, but for rounding."""
    return abs(inches - Fraction(round(inches * parts), parts)) < _ROUNDING


def _off_the_tape(inches: Fraction, parts: int) -> str:
    exact = Fraction(round(inches * parts), parts)
    if parts == 64:
        return format_length(exact, nearest=Fraction(1, parts)).replace(" ", figures.NO_BREAK)
    return f"{float(exact):g}{figures.NO_BREAK}in"


def core_size_words(value: float, unit: str) -> str:
    """Return the size of a plank of the layout core as it is named."""
    return size_words(mm_from(value, unit), system_of(unit))


def length_typed(mm: Decimal, system: str) -> str:
    """Return millimeters as somebody could have typed them: read again, they are the same length.

    Unlike `length_words` it never rounds: what a form shows and sends back stays what it was.
    """
    plain = f"{Decimal(mm).normalize():f}"
    if system == "metric":
        return f"{plain} mm"
    inches = Fraction(mm) / MM_PER_INCH
    parts = round(inches * 64)
    if abs(inches - Fraction(parts, 64)) < _ROUNDING:
        return _feet_and_inches(Fraction(parts, 64))
    tenths = round(inches, 4)
    if abs(inches - tenths) < _ROUNDING:
        return f"{float(tenths):g} in"
    return f"{plain} mm"


def _feet_and_inches(inches: Fraction) -> str:
    sign = "-" if inches < 0 else ""
    feet, rest = divmod(abs(inches), INCHES_PER_FOOT)
    whole, part = divmod(rest, 1)
    words = [str(whole)] if whole or feet or not part else []
    words += [f"{part.numerator}/{part.denominator}"] if part else []
    size = f'{" ".join(words)}"'
    return f"{sign}{feet}' {size}" if feet else sign + size


def core_length_words(value: float, unit: str) -> str:
    """Return a length of the layout core in words."""
    return length_words(mm_from(value, unit), system_of(unit))


def core_area_words(value: float, unit: str) -> str:
    """Return an area of the layout core in words."""
    return figures.area(square_feet(value, unit), system_of(unit))


def square_feet(value: float, unit: str) -> Fraction:
    """Return an area of the layout core in square feet."""
    return Fraction(value) / (MM2_PER_FT2 if unit == "mm" else INCHES_PER_FOOT**2)


def system_of(unit: str) -> str:
    """Return the unit system of the layout core's unit."""
    return "metric" if unit == "mm" else "imperial"
