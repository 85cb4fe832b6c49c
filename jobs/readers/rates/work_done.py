"""Closed jobs read as stretches of work: hours logged, and the amounts that drove them.

Laying that was logged by rows counts by the day, with what these very rows had of feet, pieces and
cuts; all other work counts by the job and the floor.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from jobs.clock import day_of
from jobs.domain.checks import ZERO, BadValueError
from jobs.domain.formats import BrokenDocumentError
from jobs.domain.rates.work import Driver, WorkDone
from jobs.domain.scope.by_room.places import ROW_DRIVERS
from jobs.domain.scope.by_room.plan_rows import row_figures
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.tasks import OTHER, TASKS
from jobs.models import Company, FloorPlan, Job, LogEntry
from jobs.readers.current_plan.marks import plan_marks
from jobs.readers.rates.entries import counted_entries, hours_counted, is_callback
from jobs.readers.scope import scope_value
from jobs.readers.stored_plan import stored_plan

NOT_LEARNED = (OTHER, "travel")
"""Logged work that no rate is for: what it was stands in a note, or is said with the crew."""

Rows = tuple[tuple[Decimal, ...], ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class ClosedWork:
    """What closed jobs logged, and the names of those whose agreed scope can't be read."""

    done: tuple[WorkDone, ...]
    left_out: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class _Stretch:
    """Entries of one task in one place of a job."""

    job: Job
    scope: FrozenScope
    task: str
    zone: str
    entries: tuple[LogEntry, ...]

    @property
    def hours(self) -> Decimal:
        return sum((hours_counted(entry) for entry in self.entries), ZERO)

    @property
    def by_day(self) -> dict[date, list[LogEntry]]:
        days: dict[date, list[LogEntry]] = defaultdict(list)
        for entry in self.entries:
            days[entry.day.date].append(entry)
        return days


def closed_work(company: Company) -> ClosedWork:
    """Return what the closed jobs of a company logged until they were closed."""
    closed = company.jobs.filter(closed_at__isnull=False, agreed_scope__isnull=False)
    closed = closed.select_related("agreed_scope__document", "agreed_scope__job", "company")
    jobs = list(closed.order_by("pk"))
    stretches, left_out = _stretches(jobs)
    rows = _rows_of_plans(stretches)
    done = [work for stretch in stretches for work in _done(stretch, rows)]
    return ClosedWork(done=tuple(done), left_out=tuple(left_out))


def _stretches(jobs: Sequence[Job]) -> tuple[list[_Stretch], list[str]]:
    """Return the work of jobs by task and place, and the names of jobs that can't be read."""
    by_job: dict[int, dict[tuple[str, str], list[LogEntry]]] = defaultdict(dict)
    known = {job.pk: job for job in jobs}
    entries = counted_entries(LogEntry.objects.filter(day__job__in=jobs))
    for entry in entries.exclude(task__in=NOT_LEARNED):
        if not hours_counted(entry) or entry.task not in TASKS:
            continue
        if not is_callback(entry, known[entry.day.job_id]):
            zone = "" if TASKS[entry.task].whole_job else entry.zone
            by_job[entry.day.job_id].setdefault((entry.task, zone), []).append(entry)
    stretches: list[_Stretch] = []
    left_out: list[str] = []
    for pk, logged in by_job.items():
        job = known[pk]
        try:
            scope = scope_value(job.agreed_scope)  # type: ignore[arg-type]
        except BrokenDocumentError:
            left_out.append(f"job {job.number}")
            continue
        stretches += [
            _Stretch(job=job, scope=scope, task=task, zone=zone, entries=tuple(each))
            for (task, zone), each in logged.items()
        ]
    return stretches, left_out


def _done(stretch: _Stretch, rows: Mapping[tuple[int, str], Rows]) -> Iterable[WorkDone]:
    """Yield what a stretch says: laying by the day where its rows are known, else all of it."""
    figures = rows.get((stretch.job.pk, stretch.zone)) if stretch.task == "lay" else None
    days = stretch.by_day
    spans = {day: _rows_of(entries) for day, entries in days.items()}
    if figures is not None and _all_once(spans.values(), len(figures)):
        for day, entries in days.items():
            amounts = _amounts_of_rows(figures, spans[day])
            hours = sum((hours_counted(entry) for entry in entries), ZERO)
            yield from _work(stretch, amounts, hours, 1, f", {day:%b} {day.day}")
        return
    yield from _work(stretch, _amounts(stretch), stretch.hours, len(days), "")


def _work(
    stretch: _Stretch, amounts: Mapping[Driver, Decimal], hours: Decimal, days: int, when: str
) -> Iterable[WorkDone]:
    """Yield a stretch of work; nothing for one without an amount, or of more hours than a day."""
    job = stretch.job
    if job.closed_at is None:
        return
    place = f", {stretch.zone}" if stretch.zone else ""
    try:
        yield WorkDone(
            log=f"job {job.number}{place}{when}",
            job=f"job {job.number}",
            closed=day_of(job.closed_at, job.company).isoformat(),
            task_code=stretch.task,
            amounts=amounts,
            hours=hours,
            days=days,
        )
    except BadValueError:
        return


def _amounts(stretch: _Stretch) -> dict[Driver, Decimal]:
    """Return what the agreed scope counts of a task in its place."""
    kind = TASKS[stretch.task]
    amounts: dict[Driver, Decimal] = defaultdict(Decimal)
    for entry in stretch.scope.quantities:
        if entry.code in kind.drivers and (kind.whole_job or entry.zone == stretch.zone):
            amounts[entry.code, entry.item] += entry.amount
    return dict(amounts)


def _rows_of(entries: Iterable[LogEntry]) -> frozenset[int]:
    """Return the rows that entries of a day name, together; none where one names none."""
    rows: set[int] = set()
    for entry in entries:
        if entry.row_from is not None and entry.row_to is not None:
            rows |= set(range(entry.row_from, entry.row_to + 1))
    return frozenset(rows)


def _all_once(spans: Iterable[frozenset[int]], count: int) -> bool:
    """Whether days name every row of a floor, each once, and no day none."""
    days = list(spans)
    rows = [row for day in days for row in day]
    return all(days) and sorted(rows) == list(range(1, count + 1))


def _amounts_of_rows(figures: Rows, rows: Iterable[int]) -> dict[Driver, Decimal]:
    taken = [figures[row - 1] for row in sorted(rows)]
    return {
        (driver, ""): sum((row[place] for row in taken), ZERO)
        for place, driver in enumerate(ROW_DRIVERS)
    }


def _rows_of_plans(stretches: Sequence[_Stretch]) -> dict[tuple[int, str], Rows]:
    """Return the figures of each row of the floors that were laid by rows over several days.

    The rows are those of the plan that a floor was laid by, what was left planned again included.
    As many queries for many floors as for one.
    """
    by_rows = [one for one in stretches if one.task == "lay" and len(one.by_day) > 1]
    wanted = {(one.job.pk, one.zone) for one in by_rows}
    laid_by = {
        mark.plan.pk: (pk, mark.zone.name)
        for pk, marks in plan_marks({one.job.pk: one.scope.zones for one in by_rows}).items()
        for mark in marks
        if mark.plan is not None and (pk, mark.zone.name) in wanted
    }
    plans = FloorPlan.objects.filter(pk__in=laid_by).select_related("document", "request")
    figures = {laid_by[plan.pk]: _figures(plan) for plan in plans}
    return {floor: rows for floor, rows in figures.items() if rows}


def _figures(plan: FloorPlan) -> Rows | None:
    try:
        form = stored_plan(plan).plan_form
    except BrokenDocumentError:
        return None
    return row_figures(form["pieces"], form["unit"])
