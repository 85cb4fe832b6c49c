"""The log of a day: hours by task, rows, planks spoiled, a photograph, a note."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import BinaryIO

from django.db import transaction
from django.db.models import QuerySet, Sum

from jobs.domain.checks import ZERO, BadValueError, require_choice, require_number
from jobs.domain.day_log.asking import Source, why_questioned
from jobs.domain.day_log.behind import holds_before
from jobs.domain.day_log.rows import not_yet
from jobs.domain.tasks import OTHER
from jobs.models import DayLog, HoursStanding, Job, LogEntry, SpoilReason, StoredFile, User, WorkDay
from jobs.readers.current_plan.tasks import tasks_as_laid
from jobs.readers.day_log.holds import let_go_of
from jobs.readers.days import open_holds_of, rows_words
from jobs.readers.scope import scope_value
from jobs.services.files import store_picture
from jobs.services.records import audit_job, first_time

DAY_HOURS = 24
_KEY_LENGTH = 56


@dataclass(frozen=True, kw_only=True, slots=True)
class LogLine:
    """What one person did of one task: man-hours, rows laid, planks spoiled and why."""

    task: str
    zone: str = ""
    hours: Decimal = ZERO
    rows: tuple[int, int] | None = None
    spoiled: int = 0
    reason: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        """Refuse hours outside a day, rows that don't count up, planks spoiled without reason."""
        require_number("hours", self.hours, least=0, most=DAY_HOURS)
        require_number("planks spoiled", self.spoiled, least=0, most=10_000)
        if self.spoiled:
            require_choice("reason", self.reason, SpoilReason.values)
        if self.rows is not None and not 1 <= self.rows[0] <= self.rows[1]:
            shown = f"{self.rows[0]} to {self.rows[1]}"
            raise BadValueError(field="rows", value=shown, accepted="the lower row first")


@dataclass(frozen=True, kw_only=True, slots=True)
class Photo:
    """A picture as it was sent."""

    upload: BinaryIO
    size: int
    name: str


@transaction.atomic
def record_log(
    *,
    day: WorkDay,
    who: User,
    user: User,
    key: str,
    lines: Sequence[LogLine],
    note: str = "",
    photo: Photo | None = None,
) -> list[LogEntry]:
    """Return the entries written for ``who``, one a line; sent again, those of the first time.

    Note and photograph go with the first line; without any line they make one of no hours.

    Raises:
        BadValueError: a task that is neither in the scope nor other work, rows that the plan
            doesn't have, a task under an open hold point, more than 24 hours of a person in a day,
            a file that is no picture.
    """
    company = day.job.company
    sending, new = first_time(company=company, key=key, action="log day")
    if not new:
        return list(day.log.filter(key__startswith=key[:_KEY_LENGTH]))
    hold_still(day, [who])
    entered = list(lines) or [LogLine(task=OTHER)]
    check_work(day, entered, note)
    check_hours(day, who, entered)
    picture = _stored(day, photo)
    log = DayLog.objects.create(day=day, teller=user, key=key[:_KEY_LENGTH])
    entries = write_lines(log, [(who, line) for line in entered])
    if note or picture:
        LogEntry.objects.filter(pk=entries[0].pk).update(note=note, photo=picture)
        entries[0].note, entries[0].photo = note, picture
    sending.result = f"day {day.pk}"
    sending.save(update_fields=["result"])
    act = f"Logged {sum(line.hours for line in entered)} h of {who.name} on {day}"
    audit_job(job=day.job, user=user, act=act)
    return entries


def hold_still(day: WorkDay, people: Iterable[User]) -> None:
    """Let nobody else write the log of this job, or of these people, until this is written."""
    Job.objects.select_for_update().get(pk=day.job_id)
    for person in sorted(people, key=lambda each: each.pk):
        User.objects.select_for_update().get(pk=person.pk)


def write_lines(log: DayLog, lines: Sequence[tuple[User, LogLine]]) -> list[LogEntry]:
    """Return the entries of a log, a row counted once; hours that raise a question wait for it."""
    standings = _standings(log, lines)
    rows = _Rows(log.day)
    entries: list[LogEntry] = []
    for who, line in lines:
        for part in rows.once(line):
            key = f"{log.key[:_KEY_LENGTH]}-{len(entries)}"
            entries.append(_write(log, who, key, part, standings[who.pk]))
    return entries


class _Rows:
    """The rows of a job's floors that are logged so far."""

    def __init__(self, day: WorkDay) -> None:
        self.logged: dict[tuple[str, str], list[tuple[int, int]]] = {}
        rows = LogEntry.objects.filter(day__job=day.job_id, row_from__isnull=False)
        for task, zone, first, last in rows.values_list("task", "zone", "row_from", "row_to"):
            self.logged.setdefault((task, zone), []).append((int(first or 0), int(last or 0)))

    def once(self, line: LogLine) -> list[LogLine]:
        """Return a line with those of its rows that no log has; a line for every further run."""
        if line.rows is None:
            return [line]
        known = self.logged.setdefault((line.task, line.zone), [])
        runs = not_yet(line.rows, known)
        known += runs
        first, *more = runs or (None,)
        extra = [LogLine(task=line.task, zone=line.zone, rows=run) for run in more]
        return [replace(line, rows=first), *extra]


def _standings(log: DayLog, lines: Sequence[tuple[User, LogLine]]) -> dict[int, str]:
    """Return by person whether the hours of this log count, or what is asked about them."""
    now: dict[int, Decimal] = {}
    for who, line in lines:
        now[who.pk] = now.get(who.pk, ZERO) + line.hours
    source = Source(person=log.teller_id or 0, phone=log.phone)
    standings = {}
    for person, hours in now.items():
        before = _that_day(person, log.day)
        sources = {
            Source(person=teller, phone=phone)
            for teller, phone in before.filter(hours__gt=0, log__teller__isnull=False)
            .values_list("log__teller", "log__phone")
            .distinct()
        }
        why = why_questioned(hours, _sum(before), source, sources)
        standings[person] = why or HoursStanding.COUNTS.value
    return standings


def _write(log: DayLog, who: User, key: str, line: LogLine, standing: str) -> LogEntry:
    row_from, row_to = line.rows or (None, None)
    return LogEntry.objects.create(
        day=log.day,
        log=log,
        who=who,
        key=key,
        task=line.task,
        zone=line.zone,
        hours=line.hours,
        planks_spoiled=line.spoiled,
        spoil_reason=line.reason if line.spoiled else "",
        note=line.note,
        standing=standing if line.hours else HoursStanding.COUNTS,
        row_from=row_from,
        row_to=row_to,
    )


def _stored(day: WorkDay, photo: Photo | None) -> StoredFile | None:
    if photo is None:
        return None
    return store_picture(
        company=day.job.company, upload=photo.upload, size=photo.size, name=photo.name
    )


def check_hours(day: WorkDay, who: User, lines: Iterable[LogLine]) -> None:
    """Refuse more than 24 hours of a person in a day, whatever jobs they are of."""
    now = sum((line.hours for line in lines), ZERO)
    before = hours_of(who, day)
    if before + now > DAY_HOURS:
        value = f"{hours_words(before + now)} ({hours_words(before)} logged before, "
        value += f"{hours_words(now)} now)"
        field = f"The day of {who.name}, {day.date}"
        raise BadValueError(field=field, value=value, accepted=f"up to {DAY_HOURS} h in a day")


def hours_words(hours: Decimal) -> str:
    """Return hours in words: 1.5 h."""
    return f"{hours.normalize():f} h"


def hours_of(who: User, day: WorkDay) -> Decimal:
    """Return the hours of a person already logged on the date of ``day``, on whatever job."""
    return _sum(_that_day(who.pk, day))


def _that_day(person: int, day: WorkDay) -> QuerySet[LogEntry]:
    entries = LogEntry.objects.filter(who=person, day__date=day.date)
    return entries.exclude(standing=HoursStanding.OUT)


def _sum(entries: QuerySet[LogEntry]) -> Decimal:
    total: Decimal | None = entries.aggregate(sum=Sum("hours"))["sum"]
    return total or ZERO


def check_work(day: WorkDay, lines: Iterable[LogLine], note: str) -> None:
    """Refuse tasks outside the scope, rows outside the plan, tasks behind an open hold point."""
    scope = scope_value(day.scope)
    tasks = {(task.code, task.zone): task for task in scope.tasks}
    tasks |= {(task.code, task.zone): task for task in tasks_as_laid(day.job, scope)}
    holds = tuple(open_holds_of(day.job).values())
    let_go = let_go_of(day.job)
    for line in lines:
        task = tasks.get((line.task, line.zone))
        if task is None and line.task != OTHER:
            shown = f"{line.task} {line.zone}".strip()
            raise BadValueError(field="task", value=shown, accepted="a task of the scope")
        if line.task == OTHER and line.hours and not note.strip():
            accepted = "a note that says what the other work was"
            raise BadValueError(field="note", value="empty", accepted=accepted)
        if line.rows is not None:
            _check_rows(line.rows, line.zone, task.rows if task else None)
        if task is not None and (before := holds_before(task.code, task.key, holds, let_go)):
            accepted = "after a named person has cleared the hold point on the job's page, "
            accepted += "or the owner has let this task go on by name"
            field = task.label + (f" ({line.zone})" if line.zone else "")
            value = f"on hold: {before[0].title}"
            raise BadValueError(field=field, value=value, accepted=accepted)


def _check_rows(rows: tuple[int, int], zone: str, of_plan: tuple[int, int] | None) -> None:
    shown = rows_words(*rows)
    if of_plan is None:
        raise BadValueError(field="rows", value=shown, accepted="none for this task")
    if rows[0] < of_plan[0] or rows[1] > of_plan[1]:
        accepted = f"rows of the plan of {zone}, {of_plan[0]} to {of_plan[1]}"
        raise BadValueError(field="rows", value=shown, accepted=accepted)
