"""The crew board: weeks across, crews and people down, what can't be, what is not on days yet."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.db.models import Count, Min, Q

from jobs.calendar import place_of
from jobs.domain.board.booked import BookedDay, Promise
from jobs.domain.board.conflicts import Conflict, conflicts_in
from jobs.models import Company, Job, KeptConflict, WorkDay
from jobs.readers.board.holds import OpenHolds, open_holds_by_job
from jobs.readers.board.laid import man_hours_of
from jobs.readers.board.lanes import BoardDrawing, BoardLane, crew_lane, people_lanes
from jobs.readers.board.promises import promised_starts
from jobs.readers.board.tentative import (
    TentativeDays,
    penciled_days,
    people_of,
    tentative_days,
)
from jobs.readers.penciled.rows import penciled_in

WEEKS = 3
WEEK = timedelta(days=7)
_FRIDAY = 4


@dataclass(frozen=True, kw_only=True, slots=True)
class BoardWeeks:
    """What the board shows of some weeks; conflicts are of today and every day after it."""

    dates: tuple[date, ...]
    crews: tuple[BoardLane, ...]
    people: tuple[BoardLane, ...]
    conflicts: tuple[Conflict, ...]
    kept: Mapping[str, KeptConflict]
    sketched: tuple[Conflict, ...] = ()

    @property
    def by_penciled(self) -> Mapping[int, list[Conflict]]:
        """By job what its penciled crew would be in conflict with."""
        by_job: dict[int, list[Conflict]] = defaultdict(list)
        for one in self.sketched:
            for job, _ in one.jobs:
                by_job[job].append(one)
        return by_job


@dataclass(frozen=True, kw_only=True, slots=True)
class _Booked:
    """The days of the weeks and those ahead: of jobs, and those that are only thought of."""

    jobs: Mapping[int, Job]
    counts: Mapping[int, int]
    days: Sequence[BookedDay]
    penciled: Sequence[BookedDay]
    conflicts: Sequence[Conflict]
    sketched: Sequence[Conflict]
    out_of_date: frozenset[tuple[int, int]]


def board_of(
    company: Company, *, monday: date, today: date, change: TentativeDays | None = None
) -> BoardWeeks:
    """Return the board of a company for the weeks that begin on a Monday.

    With a ``change`` the days of its job lie as they would, before it is saved.
    """
    last = monday + WEEKS * WEEK
    booked = _all_booked(company, (monday, last), today, change)
    shown = [day for day in (*booked.days, *booked.penciled) if monday <= day.date < last]
    dates = _dates(monday, shown)
    kept = {row.key: row for row in company.kept_conflicts.all()}
    drawing = BoardDrawing(
        jobs=booked.jobs,
        counts=booked.counts,
        conflicts=[one for one in booked.conflicts if one.key not in kept],
        place=place_of(company),
        sketched=booked.sketched,
        out_of_date=booked.out_of_date,
    )
    crews = list(company.crews.prefetch_related("members"))
    return BoardWeeks(
        dates=dates,
        crews=tuple(crew_lane(crew, shown, dates, today, drawing) for crew in crews),
        people=tuple(people_lanes(crews, shown, dates, drawing)),
        conflicts=tuple(booked.conflicts),
        kept=kept,
        sketched=tuple(booked.sketched),
    )


def _all_booked(
    company: Company, span: tuple[date, date], today: date, change: TentativeDays | None
) -> _Booked:
    rows, pencils = _days(company, span, today), list(penciled_in(company))
    jobs = {row.job_id: row.job for row in rows} | ({change.job.pk: change.job} if change else {})
    holds = open_holds_by_job(list(jobs))
    moved = change.job.pk if change else None
    days = [_booked(row, holds) for row in rows if row.job_id != moved]
    days += tentative_days(change, holds) if change else ()
    days.sort(key=lambda day: (day.date, day.job_number))
    ahead = [day for day in days if day.date >= today and jobs[day.job].closed_at is None]
    firsts, counts = _firsts_and_counts(jobs)
    if change:
        firsts[change.job.pk] = min(one.date for one in change.then)
        counts[change.job.pk] = len(change.then)
    conflicts = conflicts_in(ahead, _promises(jobs, firsts, today))
    penciled = list(penciled_days(pencils))
    older = (row for row in rows if row.scope_id != row.job.agreed_scope_id)
    return _Booked(
        jobs=jobs | {row.job_id: row.job for row in pencils},
        counts=counts | {row.job_id: len(row.days) for row in pencils},
        days=days,
        penciled=penciled,
        conflicts=conflicts,
        sketched=_sketched(ahead, [day for day in penciled if day.date >= today]),
        out_of_date=frozenset((row.job_id, row.number) for row in older),
    )


def _sketched(ahead: Sequence[BookedDay], penciled: Sequence[BookedDay]) -> list[Conflict]:
    """Return the conflicts that penciled crews would make: each with its own job in it."""
    jobs = {day.job for day in penciled}
    together = conflicts_in([*ahead, *penciled]) if jobs else []
    return [one for one in together if jobs.intersection(job for job, _ in one.jobs)]


def conflicts_of(company: Company, *, today: date) -> list[Conflict]:
    """Return every conflict of today and of all days after it."""
    return list(board_of(company, monday=today, today=today).conflicts)


def _days(company: Company, span: tuple[date, date], today: date) -> list[WorkDay]:
    """Return the days of the weeks shown, and those ahead of jobs that are still open."""
    shown = Q(date__gte=span[0], date__lt=span[1])
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
        people=tuple(people_of(row.crew)),
        man_hours=man_hours_of(row),
        hours_per_day=row.crew.hours_per_day,
        stops=tuple((one.code, one.title) for one in still_open if tasks & set(one.blocks)),
    )


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
