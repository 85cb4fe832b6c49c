"""Lengths as people type and read them, exact inside: the only door to pint.

A tape is read in feet, inches and fractions, or in metric; never in both at once. Inside, a length
is a fraction of an inch, so that nothing is lost on the way from one to the other and back:
1 in = 25.4 mm and 1 ft = 12 in exactly (NIST SP 811, 2008, appendix B.8).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING

from layout.values.errors import InputError

if TYPE_CHECKING:
    from pint import UnitRegistry


class Unit(StrEnum):
    """A unit of length."""

    INCH = "in"
    FOOT = "ft"
    MILLIMETER = "mm"
    CENTIMETER = "cm"
    METER = "m"


MM_PER_INCH = Fraction("25.4")  # exact; whoever needs it takes it from here
INCHES_PER_FOOT = 12
INCH = {"in": 1.0, "mm": float(MM_PER_INCH)}  # one inch in each unit of the form
TAPE_STEP = {"in": 1 / 16, "mm": 1.0}  # what figures are told to, in each unit of the form

IMPERIAL = (Unit.INCH, Unit.FOOT)
SYSTEMS = ("imperial", "metric")
MOST_FEET = 1000

_NAMES = {
    "'": Unit.FOOT,
    '"': Unit.INCH,
    **dict.fromkeys(("ft", "feet", "foot"), Unit.FOOT),
    **dict.fromkeys(("in", "inch", "inches"), Unit.INCH),
    **dict.fromkeys(("mm", "millimeter", "millimeters"), Unit.MILLIMETER),
    **dict.fromkeys(("cm", "centimeter", "centimeters"), Unit.CENTIMETER),
    **dict.fromkeys(("m", "meter", "meters", "metre", "metres"), Unit.METER),
}
_GLYPHS = {
    **dict.fromkeys("\u2032\u2019\u2018\u02b9\u00b4`", "'"),
    **dict.fromkeys("\u2033\u201d\u201c\u02ba", '"'),
    **dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2212", "-"),
    **dict.fromkeys("\u00a0\u2009\u202f", " "),
    "\u2044": "/",
    "½": " 1/2",
    "¼": " 1/4",
    "¾": " 3/4",
    "⅛": " 1/8",
    "⅜": " 3/8",
    "⅝": " 5/8",
    "⅞": " 7/8",
}
_WRITTEN = {
    Fraction(1, 2): "½",
    Fraction(1, 4): "¼",
    Fraction(3, 4): "¾",
    Fraction(1, 8): "⅛",
    Fraction(3, 8): "⅜",
    Fraction(5, 8): "⅝",
    Fraction(7, 8): "⅞",
}
_SMALL = {"raised": "⁰¹²³⁴⁵⁶⁷⁸⁹", "lowered": "₀₁₂₃₄₅₆₇₈₉"}
_RAISED = str.maketrans("0123456789", _SMALL["raised"])
_LOWERED = str.maketrans("0123456789", _SMALL["lowered"])
_LEVEL = str.maketrans(_SMALL["raised"] + _SMALL["lowered"], "0123456789" * 2)
_GROUP = re.compile(rf"[{_SMALL['raised']}]+[\u2044/][{_SMALL['lowered']}]+")

# A number: whole and fraction ("4 1/2", "7-3/8"), a fraction alone, or a decimal.
_NUMBER = r"(?:\d+(?:\s+|\s*-\s*)\d+/\d+|\d+/\d+|\d+\.?\d*|\.\d+)"
_ONE = re.compile(rf"({_NUMBER})\s*(['\"]|[a-z]+)?\.?", re.ASCII)
_FEET_INCHES = re.compile(rf"(\d+)\s*('|[a-z]+)\s*-?\s*({_NUMBER})\s*(\"|[a-z]+)?\.?", re.ASCII)
_BARE_FEET_INCHES = re.compile(
    r"(\d+)(?:\s+|\s*-\s*)(\d+(?:(?:\s+|\s*-\s*)\d+/\d+|\.\d+)?)", re.ASCII
)


@dataclass(frozen=True, slots=True, order=True)
class Length:
    """A length, exact, held in inches."""

    inches: Fraction

    @property
    def mm(self) -> Fraction:
        """The length in millimeters."""
        return self.to(Unit.MILLIMETER)

    def to(self, unit: Unit) -> Fraction:
        """Return the length in ``unit``."""
        return self.inches / inches_in(unit)

    @classmethod
    def of(cls, value: Fraction | int, unit: Unit) -> Length:
        """Return ``value`` of a unit as a length."""
        return cls(value * inches_in(unit))


@cache
def inches_in(unit: Unit) -> Fraction:
    """Return how many inches one ``unit`` is, exactly."""
    return Fraction(_registry().Quantity(Fraction(1), unit.value).to("in").magnitude)


def parse_length(text: str, *, bare: Unit, field: str = "length") -> Length:
    """Return the length that was typed; ``bare`` is the unit of numbers without one.

    Reads ``12' 4 1/2"``, ``12 4 1/2`` and ``12-4 1/2`` (feet and inches, where bare numbers are
    imperial), ``148.5``, ``11' 7-3/8"``, ``3.76 m``, ``376 cm``, fraction and prime glyphs.
    Raises InputError naming ``field``, the text and what is accepted: anything unreadable, two
    systems in one length, nothing, less than nothing, and more than 1000 ft.
    """
    plain = _plain(text)
    length = _read(plain.removeprefix("-"), bare) if len(plain) <= 40 else None
    if length is None:
        raise InputError(field, text, _accepted(bare))
    if plain.startswith("-") or not 0 < length.inches <= MOST_FEET * INCHES_PER_FOOT:
        raise InputError(field, text, f"more than 0, at most {_most(bare)}")
    return length


def unit_named(text: str) -> Unit | None:
    """Return the unit that typed text names, the larger one of feet and inches.

    Fractions and two numbers side by side are those of a tape in feet and inches. None for a bare
    number, whose unit must be known from elsewhere, and for text that is no length.
    """
    plain = _plain(text).removeprefix("-")
    if single := _ONE.fullmatch(plain):
        name = single[2]
        return _NAMES.get(name) if name else (Unit.INCH if "/" in single[1] else None)
    pair = _FEET_INCHES.fullmatch(plain) or _BARE_FEET_INCHES.fullmatch(plain)
    return Unit.FOOT if pair else None


def _plain(text: str) -> str:
    """Return typed text with plain marks, dashes and fractions, in single spaces."""
    level = _GROUP.sub(lambda group: f" {group[0].translate(_LEVEL)}", text)
    plain = "".join(_GLYPHS.get(sign, sign) for sign in level).replace("''", '"').lower()
    return " ".join(plain.split())


def _read(text: str, bare: Unit) -> Length | None:
    """Return the length in a tidied text, None where it can't be read."""
    if typed := _ONE.fullmatch(text):
        number, name = _number(typed[1]), typed[2]
        unit = bare if name is None else _NAMES.get(name)
        whole = unit in IMPERIAL or "/" not in typed[1]
        return Length.of(number, unit) if unit and number is not None and whole else None
    if typed := _FEET_INCHES.fullmatch(text):
        feet, inches = Fraction(typed[1]), _number(typed[3])
        ends = typed[4] is None or _NAMES.get(typed[4]) is Unit.INCH
        return _feet_inches(feet, inches) if _NAMES.get(typed[2]) is Unit.FOOT and ends else None
    if (typed := _BARE_FEET_INCHES.fullmatch(text)) and bare in IMPERIAL:
        return _feet_inches(Fraction(typed[1]), _number(typed[2]))
    return None


def _feet_inches(feet: Fraction, inches: Fraction | None) -> Length | None:
    """Return feet and inches as a length; None where the inches make a foot or more."""
    if inches is None or inches >= INCHES_PER_FOOT:
        return None
    return Length(feet * INCHES_PER_FOOT + inches)


def _number(text: str) -> Fraction | None:
    """Return a number as written, None where its fraction is none of a tape."""
    whole, slash, below = text.replace("-", " ").rpartition("/")
    if not slash:
        return Fraction(text)
    *ones, above = whole.split()
    top, bottom = int(above), int(below)
    if not 2 <= bottom <= 64 or (ones and top >= bottom):
        return None
    return Fraction(int(ones[0]) if ones else 0) + Fraction(top, bottom)


def _accepted(bare: Unit) -> str:
    """Return what may be typed, the form of the bare unit first."""
    imperial, metric = '12\' 4 1/2", 148.5 in or 4 1/2"', "3.76 m, 376 cm or 3760 mm"
    if bare in IMPERIAL:
        return f"one system, such as {imperial} (a bare number is {bare.value}), or {metric}"
    return f"one system, such as {metric} (a bare number is {bare.value}), or {imperial}"


def _most(bare: Unit) -> str:
    """Return the longest length in the system of the bare unit."""
    if bare in IMPERIAL:
        return f"{MOST_FEET} ft"
    return f"{float(Length.of(MOST_FEET, Unit.FOOT).to(Unit.METER)):g} m"


def format_length(
    length: Length | Fraction,
    system: str = "imperial",
    *,
    nearest: Fraction = Fraction(1, 16),
    on_tape: bool = False,
) -> str:
    """Return a length (a Fraction counts inches) as ``12' 4½"``, or as ``3.76 m`` and ``192 mm``.

    Imperial lengths are rounded to ``nearest`` of an inch, metric ones to the millimeter; half
    rounds up. Fractions stand in lowest terms. ``on_tape`` tells it in inches or millimeters
    alone, as boards are marked. Raises ValueError for an unknown system.
    """
    exact = length if isinstance(length, Length) else Length(Fraction(length))
    sign = "-" if exact.inches < 0 else ""
    size = Length(abs(exact.inches))
    if system == "imperial":
        return sign + _imperial(_rounded(size.inches, nearest), on_tape)
    if system == "metric":
        return sign + _metric(_rounded(size.mm, Fraction(1)), on_tape)
    text = f"unit system {system!r}; accepted: {' or '.join(SYSTEMS)}"
    raise ValueError(text)


def _imperial(inches: Fraction, on_tape: bool) -> str:
    """Return inches as feet, inches and a fraction."""
    feet, rest = (0, inches) if on_tape else divmod(inches, INCHES_PER_FOOT)
    whole, part = divmod(rest, 1)
    words = (str(whole) if whole or feet or not part else "") + fraction_glyph(part)
    return f"{feet}' {words}\"" if feet else f'{words}"'


def _metric(mm: Fraction, on_tape: bool) -> str:
    """Return whole millimeters as meters from one meter on."""
    if on_tape or mm < 1000:
        return f"{mm} mm"
    meters = f"{int(mm) / 1000:.3f}"
    return f"{meters.removesuffix('0')} m"


def fraction_glyph(part: Fraction) -> str:
    """Return a proper fraction as one glyph or one group of glyphs; nothing for zero."""
    if part == 0:
        return ""
    above, below = str(part.numerator), str(part.denominator)
    return _WRITTEN.get(part) or f"{above.translate(_RAISED)}\u2044{below.translate(_LOWERED)}"


def format_area(square_inches: Fraction, system: str = "imperial") -> str:
    """Return an area as whole ``162 ft²``, or to the tenth as ``15.1 m²``.

    Whole square feet is how floor areas are reported (ANSI Z765, sections 3 and 4). Raises
    ValueError for an unknown system.
    """
    if system == "imperial":
        return f"{_rounded(square_inches / inches_in(Unit.FOOT) ** 2, Fraction(1))} ft²"
    if system == "metric":
        tenths = _rounded(square_inches / inches_in(Unit.METER) ** 2, Fraction(1, 10))
        return f"{float(tenths):.1f} m²"
    text = f"unit system {system!r}; accepted: {' or '.join(SYSTEMS)}"
    raise ValueError(text)


def _rounded(value: Fraction, step: Fraction) -> Fraction:
    """Return a value of zero or more to the nearest step, half rounded up."""
    return (value / step + Fraction(1, 2)) // 1 * step


@cache
def _registry() -> UnitRegistry[Fraction]:
    """Return the registry of these units, exact in fractions; imported when first asked for.

    Defined here, since reading the library's own list of units takes most of a second.
    """
    from pint import UnitRegistry

    registry: UnitRegistry[Fraction] = UnitRegistry(None, non_int_type=Fraction)
    for definition in (
        "meter = [length] = m",
        "centimeter = 0.01 * meter = cm",
        "millimeter = 0.001 * meter = mm",
        f"inch = {INCH['mm']} * millimeter = in",
        f"foot = {INCHES_PER_FOOT} * inch = ft",
    ):
        registry.define(definition)
    return registry


def length_words(value: float, unit: str, *, on_tape: bool = False) -> str:
    """Return a length of the form in words, to 1/16 in or 1 mm.

    ``on_tape`` tells it in inches or millimeters alone.
    """
    exact = Fraction(value).limit_denominator(1_000_000)
    if unit == "mm":
        return format_length(Length.of(exact, Unit.MILLIMETER), "metric", on_tape=on_tape)
    return format_length(Length(exact), on_tape=on_tape)
