"""What a change of a job's days does, line by line: now and then."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from jobs.domain.checks import ZERO
from jobs.domain.days.placed.reasons import day_words


@dataclass(frozen=True, kw_only=True, slots=True)
class DayStanding:
    """A day as it lies: its number and date, the tasks on it, nights of rooms that it opens.

    `crew` is the key of the crew that works it, `crew_name` what that is called; `booked` are the
    man-hours of its half hours.
    """

    number: int
    date: date
    tasks: frozenset[str]
    nights: Mapping[str, int]
    crew: int = 0
    crew_name: str = ""
    booked: Decimal = ZERO


@dataclass(frozen=True, kw_only=True, slots=True)
class EffectLine:
    """One thing that a change may alter, as it is now and as it would be then."""

    name: str
    now: str
    then: str

    @property
    def changed(self) -> bool:
        """Whether it would be altered at all."""
        return self.now != self.then


def effect_lines(now: Sequence[DayStanding], then: Sequence[DayStanding]) -> list[EffectLine]:
    """Return what changes between these days and those, the end first."""
    return [
        EffectLine(name="Job done", now=_end(now), then=_end(then)),
        EffectLine(name="Floor walkable", now=_end(now, "lay"), then=_end(then, "lay")),
        EffectLine(name="Trips", now=str(len(now)), then=str(len(then))),
        *_days(now, then),
        *_nights(now, then),
    ]


def _end(days: Sequence[DayStanding], code: str = "") -> str:
    """Return the last day on which a task is done; of any task where none is named."""
    dates = [day.date for day in days if not code or code in day.tasks]
    return day_words(max(dates)) if dates else "not on these days"


def _days(now: Sequence[DayStanding], then: Sequence[DayStanding]) -> Iterator[EffectLine]:
    """Yield every day whose date or crew changes."""
    several = len({day.crew for day in (*now, *then)}) > 1
    was = {day.number: _day_said(day, several) for day in now}
    will = {day.number: _day_said(day, several) for day in then}
    for number in sorted({*was, *will}):
        line = EffectLine(
            name=f"Day {number}", now=was.get(number, "none"), then=will.get(number, "none")
        )
        if line.changed:
            yield line


def _day_said(day: DayStanding, several: bool) -> str:
    """Return the date of a day, and its crew where there are several."""
    words = day_words(day.date)
    return f"{words}, {day.crew_name}" if several and day.crew_name else words


def _nights(now: Sequence[DayStanding], then: Sequence[DayStanding]) -> Iterator[EffectLine]:
    """Yield the nights of every room that can't be used for one, now or then."""
    was, will = _by_room(now), _by_room(then)
    for room in dict.fromkeys((*was, *will)):
        yield EffectLine(
            name=f"{room} can't be used",
            now=_night_words(was.get(room, 0)),
            then=_night_words(will.get(room, 0)),
        )


def _by_room(days: Sequence[DayStanding]) -> dict[str, int]:
    nights: dict[str, int] = {}
    for day in days:
        for room, count in day.nights.items():
            nights[room] = nights.get(room, 0) + count
    return nights


def _night_words(nights: int) -> str:
    return {0: "no night", 1: "one night"}.get(nights, f"{nights} nights")
