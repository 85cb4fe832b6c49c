"""Laying the agreed scope of a job onto the working days of a crew."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass, replace
from datetime import date, timedelta
from decimal import Decimal

from django.db import transaction
from django.db.models import F
from django.utils import timezone

from jobs.calendar import place_of, working_days
from jobs.domain.checks import BadValueError
from jobs.domain.days.crew import DayEntry, PlannedDay
from jobs.domain.days.days import plan_days
from jobs.domain.days.homeowner import homeowners_tasks, notes_for
from jobs.domain.days.remaining import Worked, what_is_left
from jobs.domain.documents import plain_decimal
from jobs.domain.scope.crews_words import in_crews_words
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.tasks import task_key
from jobs.models import Crew, Job, LogEntry, Scope, User, WorkDay
from jobs.models.crew import StoredEntry
from jobs.readers.current_plan.tasks import tasks_as_laid
from jobs.readers.days import keys_by_day
from jobs.readers.lived_in.facts import may_be_open
from jobs.readers.scope import scope_value
from jobs.services.moved_days.bounds import all_bounds, crew_day_of, crews_on, split_work
from jobs.services.moved_days.ring import ring_in_words
from jobs.services.moved_days.split import hours_done
from jobs.services.records import audit_job

LONGEST_DAY = 16
"""Hours from eight in the morning to midnight."""

_ASIDE = 10_000
"""Added to the numbers of days that are laid out anew, so that no number stands twice meanwhile."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Wish:
    """What the office asks for: a crew, the first day, and which days are worked.

    ``afresh``: days lost, moves and holds so far no longer bound the days.
    """

    crew: Crew
    start: date
    saturdays: bool = False
    holidays_too: bool = False
    afresh: bool = False


@transaction.atomic
def lay_out_days(*, job: Job, user: User, wish: Wish, today: date) -> list[WorkDay]:
    """Return the days of ``job``: those with log entries as they are, the rest planned anew.

    What the homeowner does is not laid out: each day that waits for it says so. Where that is all
    there is, no days are left but those with log entries. Days that were lost stay lost, moves and
    holds to a date stand, and what was split stays so, unless the office wishes otherwise.

    Asked twice, the second changes nothing: a day that stays on its date stays the same row. Days
    on which the crew is at another job are left out.

    Raises:
        BadValueError: no agreed scope, nobody in the crew, a start in the past or before the last
            day that was logged, nothing left to do, no day to do it on.
    """
    locked = Job.objects.select_for_update(of=("self",))
    job = locked.select_related("company", "agreed_scope").get(pk=job.pk)
    scope = _agreed(job)
    kept = list(job.days.filter(log__isnull=False).distinct().order_by("date"))
    refuse_wish(job, wish, today)
    _refuse_logged(kept, wish)
    if wish.afresh:
        job.days_changes.filter(undone_at=None).update(undone_at=timezone.now())
    value = scope_value(scope)
    planned: Sequence[PlannedDay] = ()
    if value.has_crew:
        planned = with_notes(_planned(value, job, kept, wish, today), kept, value)
    days = _write(job, scope, wish.crew, planned, kept)
    act = f"Planned scope {scope.number} onto {len(days)} days of {wish.crew}"
    act += ", without the days lost, moved and held so far" if wish.afresh else ""
    audit_job(job=job, user=user, act=act)
    return [*kept, *days]


def _agreed(job: Job) -> Scope:
    if job.agreed_scope is None:
        accepted = "an accepted quote: its scope is what is laid onto days"
        raise BadValueError(field="agreed scope", value="none", accepted=accepted)
    return job.agreed_scope


def refuse_wish(job: Job, wish: Wish, today: date) -> None:
    """Raise BadValueError for a closed job, nobody in the crew, and a start in the past."""
    if job.closed_at is not None:
        raise BadValueError(field="job", value="closed", accepted="a job that is still open")
    if wish.crew.company_id != job.company_id:
        raise BadValueError(field="crew", value=wish.crew, accepted="a crew of the company")
    if not wish.crew.members.exists():
        accepted = "a crew with at least one person; put somebody into it first"
        raise BadValueError(field="crew", value=f"{wish.crew}, nobody in it", accepted=accepted)
    if wish.crew.hours_per_day > LONGEST_DAY:
        accepted = f"up to {LONGEST_DAY} h a day of one person; change it on the page of the crew"
        value = f"{wish.crew}, {wish.crew.hours_per_day.normalize():f} h a day each"
        raise BadValueError(field="crew", value=value, accepted=accepted)
    if wish.start < today:
        raise BadValueError(field="start", value=wish.start, accepted=f"{today} or later")


def _refuse_logged(kept: Sequence[WorkDay], wish: Wish) -> None:
    if kept and wish.start <= kept[-1].date:
        after = kept[-1].date + timedelta(days=1)
        accepted = f"{after} or later: what was logged up to {kept[-1].date} stays"
        raise BadValueError(field="start", value=wish.start, accepted=accepted)


def _planned(
    scope: FrozenScope, job: Job, kept: Sequence[WorkDay], wish: Wish, today: date
) -> tuple[PlannedDay, ...]:
    """Return the days of what is left of the scope."""
    worked = worked_on(kept)
    left = what_is_left(tasks_as_laid(job, scope), worked)
    if not any(task.hours for task in left.tasks):
        accepted = "a scope with work of the crew's left; all of that was logged"
        raise BadValueError(field="work left", value="none", accepted=accepted)
    bounds, keys = all_bounds(job), {task.key for task in left.tasks}
    # Whether a hold still blocks is asked when a day is shown, not frozen into it.
    holds = {hold for task in left.tasks for hold in task.hold_points}
    tasks = in_crews_words(left.tasks, scope.quantities)
    with ring_in_words(tasks):
        return plan_days(
            tasks,
            crew_day_of(wish.crew, wish.start),
            wish.start,
            bounds.within(working_for(job, wish)),
            today=today,
            not_before=bounds.not_before(keys, left.not_before),
            cleared=holds,
            agreed=may_be_open(job, scope),
            split=split_work(bounds, keys, hours_done(part for part in worked if part.logged)),
        )


def with_notes(
    planned: Sequence[PlannedDay], kept: Sequence[WorkDay], scope: FrozenScope
) -> list[PlannedDay]:
    """Return the days with what the homeowner does before each, told once."""
    first = max((day.number for day in kept), default=0)
    days = keys_by_day(kept) | {
        first + day.number: {task_key(entry.task_code, entry.zone) for entry in day.entries}
        for day in planned
    }
    tasks = homeowners_tasks(scope.tasks, scope.left, days)
    return [
        replace(
            day,
            notes=(*notes_for(tasks, first + day.number, last=day is planned[-1]), *day.notes),
        )
        for day in planned
    ]


def working_for(job: Job, wish: Wish) -> Callable[[date], bool]:
    """Return whether the crew can work on a day: it isn't at another job, as the office wishes."""
    elsewhere = WorkDay.objects.filter(crew=wish.crew, date__gte=wish.start).exclude(job=job)
    return working_days(
        saturdays=wish.saturdays,
        holidays_too=wish.holidays_too,
        taken=frozenset(elsewhere.values_list("date", flat=True)),
        place=place_of(job.company),
    )


def worked_on(days: Sequence[WorkDay]) -> list[Worked]:
    """Return what was planned and what was logged on these days, task by task."""
    return [part for day in days for part in _worked_on(day)]


def _worked_on(day: WorkDay) -> list[Worked]:
    log = list(day.log.all())
    entries = {entry["key"]: entry for entry in day.entries}
    keys = dict.fromkeys((*entries, *(task_key(line.task, line.zone) for line in log)))
    return [_worked(day, key, entries.get(key), log) for key in keys]


def _worked(day: WorkDay, key: str, entry: StoredEntry | None, log: list[LogEntry]) -> Worked:
    lines = [line for line in log if task_key(line.task, line.zone) == key]
    rows = tuple(
        (line.row_from, line.row_to)
        for line in lines
        if line.row_from is not None and line.row_to is not None
    )
    hours = sum((line.hours for line in lines), Decimal(0))
    planned_rows = entry["rows"] if entry else None
    return Worked(
        key=key,
        date=day.date,
        hours=Decimal(entry["hours"]) if entry else hours,
        logged=hours > 0 or bool(rows),
        planned_rows=(planned_rows[0], planned_rows[1]) if planned_rows else None,
        logged_rows=rows,
    )


def _write(
    job: Job,
    scope: Scope,
    crew: Crew,
    planned: Sequence[PlannedDay],
    kept: Sequence[WorkDay],
) -> list[WorkDay]:
    """Write the planned days over those without log entries; a day keeps its row by its date."""
    first = max((day.number for day in kept), default=0)
    dates = {day.date for day in planned}
    loose = job.days.exclude(pk__in=[day.pk for day in kept])
    loose.exclude(date__in=dates).delete()
    loose.update(number=F("number") + _ASIDE)
    by_date, others = {day.date: day for day in loose}, crews_on(all_bounds(job))
    days = []
    for planned_day in planned:
        day = by_date.get(planned_day.date) or WorkDay(job=job, date=planned_day.date)
        day.scope, day.crew = scope, others.get(planned_day.date, crew)
        day.number = first + planned_day.number
        day.entries = [entry_json(entry) for entry in planned_day.entries]
        day.notes, day.hours = list(planned_day.notes), planned_day.crew_hours
        day.lanes = [lane.as_stored() for lane in planned_day.lanes]
        day.nights = [asdict(night) for night in planned_day.nights]
        day.save()
        days.append(day)
    return days


def entry_json(entry: DayEntry) -> StoredEntry:
    """Return one entry of a day as its row keeps it."""
    first, last = entry.row_from, entry.row_to
    return {
        "key": task_key(entry.task_code, entry.zone),
        "task": entry.task_code,
        "zone": entry.zone,
        "label": entry.label,
        "hours": plain_decimal(entry.hours.quantize(Decimal("0.01"))),
        "rows": None if first is None or last is None else [first, last],
        "helper": entry.helper,
        "finishes": entry.finishes,
        "hold_points": list(entry.hold_points),
        "booked": plain_decimal(entry.booked.quantize(Decimal("0.1"))),
        "rooms": list(entry.rooms),
        "part": entry.part,
    }
