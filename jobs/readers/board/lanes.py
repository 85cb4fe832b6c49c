"""The crew board drawn: a lane for each crew and person, a square for each date of it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from jobs.calendar import HolidayPlace, why_not_worked
from jobs.domain.board.booked import BookedDay, day_words, hours_words
from jobs.domain.board.conflicts import Conflict
from jobs.domain.board.free import FreeDays, Room, free_days, room_on
from jobs.models import Crew, Job
from jobs.readers.board.tentative import people_of


@dataclass(frozen=True, kw_only=True, slots=True)
class Visit:
    """A day of a job in a square of the board. ``share``: its hours, in percent of the day's.

    ``out_of_date``: other work is agreed on since it was planned.
    """

    day: BookedDay
    title: str
    count: int
    hours: str
    share: int
    clashes: bool
    out_of_date: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Square:
    """One date of a crew or person: the visits of it, or why there is none."""

    date: date
    visits: tuple[Visit, ...]
    off: str
    room: Room
    clashes: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class BoardLane:
    """A crew or person with a square for every date of the board."""

    name: str
    squares: tuple[Square, ...]
    free: FreeDays | None = None
    penciled: tuple[date, ...] = ()

    @property
    def penciled_words(self) -> str:
        """The days ahead for which it is penciled in, named; days hold commas."""
        return "; ".join(map(day_words, self.penciled))

    @property
    def is_free(self) -> bool:
        """Whether nothing lies in any of its squares."""
        return not any(square.visits for square in self.squares)


@dataclass(frozen=True, kw_only=True, slots=True)
class BoardDrawing:
    """What visits are drawn with; the conflicts are those that nobody keeps.

    ``sketched`` are those that penciled crews would make.
    """

    jobs: Mapping[int, Job]
    counts: Mapping[int, int]
    conflicts: Sequence[Conflict]
    place: HolidayPlace
    sketched: Sequence[Conflict] = ()
    out_of_date: frozenset[tuple[int, int]] = frozenset()

    def square(
        self, on: date, days: Sequence[BookedDay], room: Room, person: int | None = None
    ) -> Square:
        """Return the square of a date with these days in it, of a crew or of a person."""
        visits = tuple(self._visit(day, person) for day in days)
        off = why_not_worked(on, self.place)
        clashes = any(visit.clashes for visit in visits)
        return Square(date=on, visits=visits, off=off, room=room, clashes=clashes)

    def _visit(self, day: BookedDay, person: int | None) -> Visit:
        share = min(100, round(day.clock_hours / day.hours_per_day * 100))
        among = (*self.conflicts, *self.sketched) if day.penciled else self.conflicts
        clashes = any(one.is_of(day, person) for one in among)
        title, count = self.jobs[day.job].title, self.counts.get(day.job, day.number)
        hours = hours_words(day.clock_hours)
        return Visit(
            day=day,
            title=title,
            count=count,
            hours=hours,
            share=share,
            clashes=clashes,
            out_of_date=(day.job, day.number) in self.out_of_date,
        )


def crew_lane(
    crew: Crew,
    shown: Iterable[BookedDay],
    dates: Sequence[date],
    today: date,
    drawing: BoardDrawing,
) -> BoardLane:
    by_date = _by_date(day for day in shown if day.crew == crew.pk)
    workable = [day for day in dates if day >= today and not why_not_worked(day, drawing.place)]
    booked = _by_date(day for days in by_date.values() for day in days if not day.penciled)
    squares = [
        drawing.square(on, by_date[on], room_on(booked[on], crew.hours_per_day)) for on in dates
    ]
    free = free_days(booked, crew.hours_per_day, workable)
    penciled = tuple(on for on in workable if any(day.penciled for day in by_date[on]))
    return BoardLane(name=crew.name, squares=tuple(squares), free=free, penciled=penciled)


def people_lanes(
    crews: Iterable[Crew], shown: Sequence[BookedDay], dates: Sequence[date], drawing: BoardDrawing
) -> Iterable[BoardLane]:
    """Yield everybody who is in a crew, by name."""
    people = {person for crew in crews for person in people_of(crew)}
    for person in sorted(people, key=lambda one: (one[1], one[0])):
        by_date = _by_date(day for day in shown if person in day.people)
        squares = [
            drawing.square(on, by_date[on], "" if by_date[on] else "whole", person[0])
            for on in dates
        ]
        yield BoardLane(name=person[1], squares=tuple(squares))


def _by_date(days: Iterable[BookedDay]) -> dict[date, list[BookedDay]]:
    by_date: dict[date, list[BookedDay]] = defaultdict(list)
    for day in days:
        by_date[day.date].append(day)
    return by_date
