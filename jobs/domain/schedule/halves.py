"""Half hours: what is laid onto days, beside the exact hours that a scope keeps."""

from collections.abc import Sequence
from decimal import Decimal
from itertools import accumulate, pairwise
from math import ceil

HALF = Decimal("0.5")
QUARTERS_A_HALF = 2
QUARTERS_A_DAY = 96


def halves_of(hours: Decimal) -> int:
    """Return the half hours that so many hours are rounded up to."""
    return ceil(hours * 2)


def shared_halves(shares: Sequence[Decimal]) -> tuple[int, ...]:
    """Return the half hours of each share, so that together they are those of the sum."""
    reached = [0, *(halves_of(hours) for hours in accumulate(shares))]
    return tuple(now - before for before, now in pairwise(reached))


def in_hours(halves: int) -> Decimal:
    """Return half hours as hours."""
    return halves * HALF


def quarters_of(hours: Decimal) -> int:
    """Return hours of the clock as quarters, a begun one counted whole."""
    return ceil(hours * 4)


def said_clock(quarters: int) -> str:
    """Return the time of day of a moment: 8:15."""
    of_day = quarters % QUARTERS_A_DAY
    return f"{of_day // 4}:{of_day % 4 * 15:02d}"
