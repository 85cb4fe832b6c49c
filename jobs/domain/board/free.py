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

from jobs.domain.board.booked import BookedDay, day_words, listed

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
        """Which days are free, in a sentence's end; empty where none is."""
        parts = [f"free {self._whole_words()}"] if self.whole else []
        if self.half:
            parts.append(f"half free on {listed([day_words(day) for day in self.half])}")
        return "; ".join(parts)

    def _whole_words(self) -> str:
        """Return the whole days, the last ones in a row as one: on Wed, Dec 2 and from ... on."""
        tail = _run_at_the_end(self.whole, self.workable)
        single = [day for day in self.whole if day not in tail]
        words = [f"on {listed([day_words(day) for day in single])}"] if single else []
        if tail:
            words.append(f"from {day_words(tail[0])}")
        return " and ".join(words)


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


def _run_at_the_end(free: Sequence[date], workable: Sequence[date]) -> tuple[date, ...]:
    """Return the free days up to the last working day, where these are two or more in a row."""
    run: list[date] = []
    for day in reversed(workable):
        if day not in free:
            break
        run.append(day)
    return tuple(reversed(run)) if len(run) > 1 else ()
