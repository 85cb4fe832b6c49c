"""What follows from a day lost, moved, held or split: the days as they would lie; no write."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from jobs.calendar import SATURDAY, holiday_name, place_of, working_days
from jobs.domain.board.booked import day_words
from jobs.domain.checks import BadValueError
from jobs.domain.days.crew import PlannedDay
from jobs.domain.days.days import plan_days
from jobs.domain.days.moves import DayStanding
from jobs.domain.days.remaining import what_is_left
from jobs.domain.documents import canonical_json, digest
from jobs.domain.scope.crews_words import in_crews_words
from jobs.models import Crew, DaysChange, Job, WorkDay
from jobs.readers.board.laid import man_hours_of
from jobs.readers.current_plan.tasks import tasks_as_laid
from jobs.readers.lived_in.facts import may_be_open
from jobs.readers.scope import scope_value
from jobs.services.days import entry_json, with_notes, worked_on
from jobs.services.moved_days.bounds import (
    Bounds,
    all_bounds,
    crew_day_of,
    crews_on,
    split_work,
)
from jobs.services.moved_days.split import hours_done, split_bounds

FAR = 366
"""Days ahead to which work may be moved; further is taken for a slip of the year."""


@dataclass(frozen=True, kw_only=True, slots=True)
class DayMove:
    """What somebody wants of a day: it is lost, moved to a date, a task of it held to one, split.

    Of a split `stays` is what stays on the day, a row or hours as typed; the rest of the `task`, of
    the day where none is named, goes on at the date, with another `crew` where one is named.
    """

    kind: str
    day: WorkDay
    to: date | None = None
    task: str = ""
    stays: str = ""
    crew: Crew | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Replan:
    """The days that stay, those that are touched, and what would lie in their place."""

    kept: tuple[WorkDay, ...]
    touched: tuple[WorkDay, ...]
    planned: tuple[PlannedDay, ...]
    bounds: Bounds
    crew: Crew
    crews: Mapping[date, Crew]

    def crew_on(self, day: date) -> Crew:
        """Return the crew that would work a date."""
        return self.crews.get(day, self.crew)

    @property
    def first(self) -> int:
        """The number before the first planned day."""
        return max((day.number for day in self.kept), default=0)

    @property
    def now(self) -> list[DayStanding]:
        """All days as they lie."""
        return [_standing_of(day) for day in (*self.kept, *self.touched)]

    @property
    def then(self) -> list[DayStanding]:
        """All days as they would lie."""
        return [
            *(_standing_of(day) for day in self.kept),
            *(
                DayStanding(
                    number=self.first + day.number,
                    date=day.date,
                    tasks=frozenset(entry.task_code for entry in day.entries),
                    nights={night.room: night.nights for night in day.nights},
                    crew=self.crew_on(day.date).pk,
                    crew_name=self.crew_on(day.date).name,
                    booked=day.booked or day.crew_hours,
                )
                for day in self.planned
            ),
        ]


def seen_as(days: Iterable[WorkDay]) -> str:
    """Return the mark of days as somebody saw them; another one once any of them has changed."""
    fields = [[day.pk, day.number, day.date.isoformat(), day.entries, day.crew_id] for day in days]
    return digest(canonical_json({"days": fields}))


def shown_as(plan: Replan) -> str:
    """Return the mark of the days that would lie; another one once anything on them is another."""
    days = [
        [
            plan.first + day.number,
            day.date.isoformat(),
            plan.crew_on(day.date).pk,
            [entry_json(entry) for entry in day.entries],
            [lane.as_stored() for lane in day.lanes],
        ]
        for day in plan.planned
    ]
    return digest(canonical_json({"days": days}))


def replanned(move: DayMove, today: date) -> Replan:
    """Return the days as they would lie; those before the day stay as they are.

    Raises BadValueError for a day in the past or with a log after it, days of an earlier scope, a
    date that can't be, and where nothing can be planned.
    """
    days = list(_days_of(move.day.job))
    _check(move, days, today)
    start = _start(move)
    kept = tuple(day for day in days if day.date < move.day.date)
    touched = tuple(day for day in days if day.date >= move.day.date)
    if kept and start <= kept[-1].date:
        accepted = f"a day after {kept[-1].date}: the days before stay where they are"
        raise BadValueError(field="to", value=start, accepted=accepted)
    added = _bounds_of(move, kept)
    bounds = all_bounds(move.day.job, added)
    crew = _jobs_crew(move.day, (*touched, *kept), bounds)
    planned = _planned(move, crew, (kept, touched), start, bounds, today)
    return Replan(
        kept=kept,
        touched=touched,
        planned=tuple(planned),
        bounds=added,
        crew=crew,
        crews=crews_on(bounds),
    )


def _jobs_crew(day: WorkDay, days: Iterable[WorkDay], bounds: Bounds) -> Crew:
    """Return the crew that the job is laid out for, also where another one works this day."""
    usual = (one.crew for one in days if bounds.crews.get(one.date) != one.crew_id)
    return next(usual, day.crew)


def _start(move: DayMove) -> date:
    """Return the first date that is planned: an earlier one where the day moves forward."""
    if move.kind == DaysChange.Kind.MOVED and move.to is not None:
        return min(move.day.date, move.to)
    return move.day.date


def _days_of(job: Job) -> Iterable[WorkDay]:
    days = job.days.select_related("crew", "scope__document").prefetch_related("log")
    return days.order_by("date")


def _check(move: DayMove, days: Sequence[WorkDay], today: date) -> None:
    day, job = move.day, move.day.job
    if job.closed_at is not None:
        raise BadValueError(field="job", value="closed", accepted="a job that is still open")
    if day.date < today:
        accepted = f"{day_words(today)} or later: no day in the past is changed"
        raise BadValueError(field="day", value=day_words(day.date), accepted=accepted)
    if any(one.log.all() for one in days if one.date >= day.date):
        accepted = "days without log entries: what was logged stays"
        raise BadValueError(field="day", value=f"{day_words(day.date)}, logged", accepted=accepted)
    if job.agreed_scope_id is None or any(d.scope_id != job.agreed_scope_id for d in days):
        accepted = "days of the agreed scope; plan the days again first"
        raise BadValueError(field="days", value="those of an earlier scope", accepted=accepted)
    if move.kind != DaysChange.Kind.LOST:
        _check_date(move, today)


def _check_date(move: DayMove, today: date) -> None:
    accepted = f"{today} to {today + timedelta(days=FAR)}, another day than {move.day.date}"
    if move.to is None or not today <= move.to <= today + timedelta(days=FAR):
        raise BadValueError(field="to", value=move.to or "no day", accepted=accepted)
    if move.to == move.day.date and move.kind != DaysChange.Kind.SPLIT:
        raise BadValueError(field="to", value=move.to, accepted=accepted)
    keys = {entry["key"] for entry in move.day.entries}
    if move.kind == DaysChange.Kind.HELD and move.task not in keys:
        raise BadValueError(field="task", value=move.task or "none", accepted="a task of this day")


def _bounds_of(move: DayMove, kept: Sequence[WorkDay]) -> Bounds:
    """Return what this change alone adds to the bounds of the job."""
    day, to = move.day.date, move.to
    if move.kind == DaysChange.Kind.LOST or to is None:
        return Bounds(lost=frozenset({day}))
    if move.kind == DaysChange.Kind.HELD:
        return Bounds(hold={move.task: to})
    if move.kind == DaysChange.Kind.SPLIT:
        return split_bounds(move.day, move.task, move.stays, to, move.crew, worked_on(kept))
    between = frozenset(day + timedelta(days=number) for number in range((to - day).days))
    return Bounds(lost=between, worked=frozenset({to}))


def _planned(
    move: DayMove,
    crew: Crew,
    parts: tuple[Sequence[WorkDay], Sequence[WorkDay]],
    start: date,
    bounds: Bounds,
    today: date,
) -> Sequence[PlannedDay]:
    """Return what is left after the days that stay, planned from the start on."""
    kept, touched = parts
    scope = scope_value(move.day.scope)
    # The days that stay count as done as planned, logged or not: they lie before this one.
    worked = [replace(part, logged=True) for part in worked_on(kept)]
    left = what_is_left(tasks_as_laid(move.day.job, scope), worked)
    keys = {task.key for task in left.tasks}
    days = plan_days(
        in_crews_words(left.tasks, scope.quantities),
        crew_day_of(crew, start),
        start,
        _works(crew, move.day.job, touched, bounds),
        today=today,
        not_before=bounds.not_before(keys, left.not_before),
        cleared={hold for task in left.tasks for hold in task.hold_points},
        agreed=may_be_open(move.day.job, scope),
        split=split_work(bounds, keys, hours_done(worked)),
    )
    return with_notes(days, kept, scope)


def _works(
    crew: Crew, job: Job, touched: Sequence[WorkDay], bounds: Bounds
) -> Callable[[date], bool]:
    """Return whether a day is worked: as the days that are touched were, within the bounds."""
    dates, place = {day.date for day in touched}, place_of(job.company)
    # A date that the job has already is its own, also where the crew is at another job that day.
    elsewhere = WorkDay.objects.filter(crew=crew, date__gte=min(dates)).exclude(job=job)
    elsewhere = elsewhere.exclude(date__in=dates)
    usual = working_days(
        saturdays=any(day.weekday() == SATURDAY for day in dates),
        holidays_too=any(holiday_name(day, place) for day in dates),
        place=place,
        taken=frozenset(elsewhere.values_list("date", flat=True)),
    )
    return bounds.within(usual)


def _standing_of(day: WorkDay) -> DayStanding:
    return DayStanding(
        number=day.number,
        date=day.date,
        tasks=frozenset(str(entry["task"]) for entry in day.entries),
        nights={night["room"]: night["nights"] for night in day.nights},
        crew=day.crew_id,
        crew_name=day.crew.name,
        booked=man_hours_of(day),
    )
