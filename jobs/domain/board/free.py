"""Days and half days on which a crew has nothing to do, named. Pure.

Nothing shorter than half a day is offered, nor anything shorter than two hours: nobody drives out
for less (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from jobs.domain.board.booked import BookedDay, day_words

LEAST_HOURS = Decimal(2)
HALF = Decimal("0.5")

Room = Literal["whole", "half", ""]


@dataclass(frozen=True, kw_only=True, slots=True)
class FreeDays:
    """The days of a crew that are free, whole or for half of them, out of a row of working days."""

    whole: tuple[date, ...]
    half: tuple[date, ...]
    workable: tuple[date, ...]

    @property
    def words(self) -> str:
        """Which days are free, in a sentence's end; empty where none is. Days hold commas."""
        runs = _runs(self.whole, self.workable)
        parts = ["free " + "; ".join(_run_words(run, self.workable[-1]) for run in runs)]
        if self.half:
            parts.append("half free on " + "; ".join(day_words(day) for day in self.half))
        return "; ".join(parts if runs else parts[1:])


def _runs(free: Sequence[date], workable: Sequence[date]) -> list[list[date]]:
    """Return the free days, those that follow each other on working days together."""
    runs: list[list[date]] = []
    before = False
    for day in workable:
        if day in free:
            if not before:
                runs.append([])
            runs[-1].append(day)
        before = day in free
    return runs


def _run_words(run: Sequence[date], last: date) -> str:
    """Return days in a row: on one, on two, from the first to the last, or from one on."""
    first = day_words(run[0])
    if run[-1] == last and len(run) > 1:
        return f"from {first}"
    if len(run) > 2:
        return f"from {first} to {day_words(run[-1])}"
    return "on " + " and ".join(day_words(day) for day in run)


def room_on(days: Iterable[BookedDay], hours_per_day: Decimal) -> Room:
    """Return what is free of a crew's day: the whole, half of it or more, or nothing of use."""
    taken = sum((day.clock_hours for day in days), Decimal(0))
    if not taken:
        return "whole"
    free = hours_per_day - taken
    return "half" if free >= max(hours_per_day * HALF, LEAST_HOURS) else ""


def free_days(
    by_date: Mapping[date, Sequence[BookedDay]], hours_per_day: Decimal, workable: Sequence[date]
) -> FreeDays:
    """Return what is free of a crew on the days that are worked, in their order."""
    rooms = {day: room_on(by_date.get(day, ()), hours_per_day) for day in workable}
    return FreeDays(
        whole=tuple(day for day, room in rooms.items() if room == "whole"),
        half=tuple(day for day, room in rooms.items() if room == "half"),
        workable=tuple(workable),
    )
