"""What the days of a real crew are otherwise than the priced ones, in words."""

from __future__ import annotations

from decimal import Decimal

from jobs.domain.scope.laid_for.differing import DaysDifference, days_differing
from jobs.domain.scope.schedule import ScopeSchedule

REAL = "with this crew"


def differing_words(
    priced: ScopeSchedule | None, real: ScopeSchedule, *, was: str = "priced", now: str = REAL
) -> list[str]:
    """Return in sentences what differs; nothing where the days are the same.

    ``was`` and ``now`` are what the two are called. A price without days differs in all of them.
    """
    if priced is None:
        return [f"Trips: {was} by the hours alone, {now} {real.trips}."]
    return [_said(one, was, now) for one in days_differing(priced, real)]


def _said(one: DaysDifference, was: str, now: str) -> str:
    if one.what == "people":
        return f"Crew: {was} for {people_words(one.priced)}, {now} {people_words(one.real)}."
    if one.what == "work":
        numbers = ", ".join(str(number) for number in one.days)
        return f"Other work is done on day{'s' if len(one.days) > 1 else ''} {numbers}."
    what = {
        "hours_per_day": "Hours of a day, one person",
        "trips": "Trips",
        "booked": "Days on site as booked",
        "nights": f"Nights without {one.room}",
        "hours": "Hours, the drive too",
    }[one.what]
    return f"{what}: {was} {_figure(one.priced)}, {now} {_figure(one.real)}."


def _figure(number: Decimal) -> str:
    return f"{number.normalize():f}"


def people_words(count: Decimal | int) -> str:
    """Return a number of people in words."""
    return "one person" if count == 1 else f"{count} people"
