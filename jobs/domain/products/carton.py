"""What a carton of planks covers and weighs, and whether that is what is printed on it. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import ROUND_CEILING, Decimal

from jobs.domain.lengths import MM2_PER_FT2, MM_PER_IN

COVERAGE_TOLERANCE = Decimal("0.01")
"""By how much of itself a printed coverage may differ from planks times size: makers round it.

A nominal size for a laid one, or a plank miscounted, lies beyond. Common practice, no source.
"""

# Pounds to the square foot for an inch of thickness. Common practice, no source: a rigid vinyl
# plank of 1/4 in weighs 1.7 to 2.1 lb/ft2, the middle is taken; dense fiberboard of about 880 and
# engineered wood of about 680 kg to the cubic meter, both from memory.
_LB_PER_FT2_IN: Mapping[str, Decimal] = {
    "rigid": Decimal("7.6"),
    "laminate": Decimal("4.6"),
    "wood": Decimal("3.5"),
}
_HUNDREDTH = Decimal("0.01")
_FT2_IN_MM2 = Decimal(MM2_PER_FT2.numerator) / MM2_PER_FT2.denominator
FT2_PER_M2 = Decimal(10**6) / _FT2_IN_MM2


def carton_ft2(length_mm: Decimal, sizes: Iterable[tuple[Decimal, int]]) -> Decimal:
    """Return what the planks of a carton cover, to the hundredth; ``sizes``: width and count."""
    across = sum((width * count for width, count in sizes), Decimal(0))
    return (length_mm * across / _FT2_IN_MM2).quantize(_HUNDREDTH)


def coverage_bounds(counted: Decimal) -> tuple[Decimal, Decimal]:
    """Return between which printed figures a carton's size and count are believed, in ft2."""
    return tuple(  # type: ignore[return-value]
        (counted * (1 + part)).quantize(_HUNDREDTH)
        for part in (-COVERAGE_TOLERANCE, COVERAGE_TOLERANCE)
    )


def covers_as_printed(printed: Decimal, counted: Decimal) -> bool:
    """Whether a printed coverage is that of the planks, in ft2; the bounds themselves are."""
    least, most = coverage_bounds(counted)
    return least <= printed <= most


def planks_in_row(length_mm: Decimal, row_mm: Decimal) -> int:
    """Return how many planks a row begins, the last one cut."""
    return int((row_mm / length_mm).to_integral_value(ROUND_CEILING))


def common_carton_lb(core: str, thickness_mm: Decimal, covers_ft2: Decimal) -> Decimal:
    """Return what a carton commonly weighs in pounds, to the half, by core and thickness."""
    exact = _LB_PER_FT2_IN[core] * thickness_mm / MM_PER_IN * covers_ft2
    return (exact * 2).quantize(Decimal(1)) / 2
