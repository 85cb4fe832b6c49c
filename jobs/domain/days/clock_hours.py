"""How long a crew is away on a day: its man-hours shared by its people. Pure."""

from __future__ import annotations

from decimal import ROUND_CEILING, Decimal

from jobs.domain.checks import require_number

HALVES = Decimal(2)
LEAST = Decimal("0.5")
LONGEST = Decimal(24)


def clock_hours(man_hours: Decimal, people: int) -> Decimal:
    """Return the hours on the clock of so many man-hours, rounded up to half hours.

    The people work side by side; where one waits for another it takes longer, so a calendar calls
    it the planned time. At least half an hour, at most a whole day; nobody counts as one person.
    """
    require_number("man-hours", man_hours)
    shared = man_hours / max(people, 1)
    halves = (shared * HALVES).to_integral_value(rounding=ROUND_CEILING)
    return min(max(halves / HALVES, LEAST), LONGEST)
