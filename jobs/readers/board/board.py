"""The crew board: weeks across, crews and people down, what can't be, what is not on days yet."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.db.models import Count, Min, Q

from jobs.calendar import HolidayPlace, place_of, why_not_worked
from jobs.domain.board.booked import BookedDay, Named, Promise, hours_words
from jobs.domain.board.conflicts import Conflict, conflicts_in
from jobs.domain.board.free import FreeDays, Room, free_days, room_on
from jobs.models import Company, Crew, Job, KeptConflict, WorkDay
from jobs.readers.board.holds import OpenHolds, open_holds_by_job
from jobs.readers.board.laid import man_hours_of
from jobs.readers.board.promises import promised_starts

WEEKS = 3
WEEK = timedelta(days=7)
_FRIDAY = 4


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

    @property
    def is_free(self) -> bool:
        """Whether nothing lies in any of its squares."""
        return not any(square.visits for square in self.squares)


@dataclass(frozen=True, kw_only=True, slots=True)
class BoardWeeks:
    """What the board shows of some weeks; conflicts are of today and every day after it."""

    dates: tuple[date, ...]
    crews: tuple[BoardLane, ...]
    people: tuple[BoardLane, ...]
    conflicts: tuple[Conflict, ...]
    kept: Mapping[str, KeptConflict]


def board_of(company: Company, *, monday: date, today: date) -> BoardWeeks:
    """Return the board of a company for the weeks that begin on a Monday."""
    last = monday + WEEKS * WEEK
    rows = _days(company, monday, last, today)
    jobs = {row.job_id: row.job for row in rows}
    holds = open_holds_by_job(list(jobs))
    booked = [_booked(row, holds) for row in rows]
    ahead = [day for day in booked if day.date >= today and jobs[day.job].closed_at is None]
    firsts, counts = _firsts_and_counts(jobs)
    conflicts = conflicts_in(ahead, _promises(jobs, firsts, today))
    shown = [day for day in booked if monday <= day.date < last]
    dates = _dates(monday, shown)
    kept = {row.key: row for row in company.kept_conflicts.all()}
    open_ones = [one for one in conflicts if one.key not in kept]
    older = (row for row in rows if row.scope_id != row.job.agreed_scope_id)
    drawing = _BoardDrawing(
        jobs=jobs,
        counts=counts,
        conflicts=open_ones,
        place=place_of(company),
        out_of_date=frozenset((row.job_id, row.number) for row in older),
    )
    crews = list(company.crews.prefetch_related("members"))
    return BoardWeeks(
        dates=dates,
        crews=tuple(_crew_lane(crew, shown, dates, today, drawing) for crew in crews),
        people=tuple(_people_lanes(crews, shown, dates, drawing)),
        conflicts=tuple(conflicts),
        kept=kept,
    )


def conflicts_of(company: Company, *, today: date) -> list[Conflict]:
    """Return every conflict of today and of all days after it."""
    return list(board_of(company, monday=today, today=today).conflicts)


def _days(company: Company, monday: date, last: date, today: date) -> list[WorkDay]:
    """Return the days of the weeks shown, and those ahead of jobs that are still open."""
    shown = Q(date__gte=monday, date__lt=last)
    ahead = Q(date__gte=today, job__closed_at=None)
    days = WorkDay.objects.filter(shown | ahead, job__company=company)
    days = days.select_related("job", "crew").prefetch_related("crew__members")
    return list(days.order_by("date", "job__number"))


def _booked(row: WorkDay, holds: OpenHolds) -> BookedDay:
    tasks = {str(entry["task"]) for entry in row.entries}
    still_open = holds.get(row.job_id, {}).values()
    return BookedDay(
        date=row.date,
        number=row.number,
        job=row.job_id,
        job_number=row.job.number,
        crew=row.crew_id,
        crew_name=row.crew.name,
        people=tuple(_people_of(row.crew)),
        man_hours=man_hours_of(row),
        hours_per_day=row.crew.hours_per_day,
        stops=tuple((one.code, one.title) for one in still_open if tasks & set(one.blocks)),
    )


def _people_of(crew: Crew) -> list[Named]:
    """Return the people of a crew who have not left."""
    return [(one.pk, one.name) for one in crew.members.all() if one.is_active]


def _firsts_and_counts(jobs: Mapping[int, Job]) -> tuple[dict[int, date], dict[int, int]]:
    rows = WorkDay.objects.filter(job__in=jobs).values("job")
    rows = rows.annotate(first=Min("date"), count=Count("pk")).order_by("job")
    kept = list(rows)
    return {row["job"]: row["first"] for row in kept}, {row["job"]: row["count"] for row in kept}


def _promises(
    jobs: Mapping[int, Job], firsts: Mapping[int, date], today: date
) -> Iterable[Promise]:
    """Yield what was promised of jobs that have yet to begin."""
    ahead = {pk: job for pk, job in jobs.items() if firsts[pk] >= today}
    for said in promised_starts(ahead):
        yield Promise(
            job=said.job,
            job_number=jobs[said.job].number,
            first=firsts[said.job],
            earliest=said.earliest,
            latest=said.latest,
            words=said.words,
        )


def _dates(monday: date, days: Iterable[BookedDay]) -> tuple[date, ...]:
    """Return Mondays to Fridays of the weeks, and the days of weekends that somebody works."""
    worked = {day.date for day in days}
    every = [monday + timedelta(days=number) for number in range(WEEKS * 7)]
    return tuple(day for day in every if day.weekday() <= _FRIDAY or day in worked)


@dataclass(frozen=True, kw_only=True, slots=True)
class _BoardDrawing:
    """What visits are drawn with; the conflicts are those that nobody keeps."""

    jobs: Mapping[int, Job]
    counts: Mapping[int, int]
    conflicts: Sequence[Conflict]
    place: HolidayPlace
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
        clashes = any(one.is_of(day, person) for one in self.conflicts)
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


def _crew_lane(
    crew: Crew,
    shown: Iterable[BookedDay],
    dates: Sequence[date],
    today: date,
    drawing: _BoardDrawing,
) -> BoardLane:
    by_date = _by_date(day for day in shown if day.crew == crew.pk)
    workable = [day for day in dates if day >= today and not why_not_worked(day, drawing.place)]
    squares = [
        drawing.square(on, by_date[on], room_on(by_date[on], crew.hours_per_day)) for on in dates
    ]
    free = free_days(by_date, crew.hours_per_day, workable)
    return BoardLane(name=crew.name, squares=tuple(squares), free=free)


def _people_lanes(
    crews: Iterable[Crew], shown: Sequence[BookedDay], dates: Sequence[date], drawing: _BoardDrawing
) -> Iterable[BoardLane]:
    """Yield everybody who is in a crew, by name."""
    people = {person for crew in crews for person in _people_of(crew)}
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
