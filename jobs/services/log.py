"""The log of a day: hours by task, rows, planks spoiled, a photograph, a note."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import BinaryIO

from django.db import transaction
from django.db.models import Sum

from jobs.domain.checks import ZERO, BadValueError, require_choice, require_number
from jobs.domain.tasks import OTHER
from jobs.models import LogEntry, SpoilReason, StoredFile, User, WorkDay
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
    entered = list(lines) or [LogLine(task=OTHER)]
    User.objects.select_for_update().get(pk=who.pk)
    _check(day, who, entered, note)
    picture = _stored(day, photo)
    entries = [
        _write(day, who, f"{key[:_KEY_LENGTH]}-{place}", line, *_beside(place, note, picture))
        for place, line in enumerate(entered)
    ]
    sending.result = f"day {day.pk}"
    sending.save(update_fields=["result"])
    act = f"Logged {sum(line.hours for line in entered)} h of {who.name} on {day}"
    audit_job(job=day.job, user=user, act=act)
    return entries


@transaction.atomic
def take_back(*, entry: LogEntry, user: User) -> None:
    """Remove a log entry that was a mistake; the audit line keeps what it said.

    Raises BadValueError for an entry that was there when its job was closed.
    """
    closed = entry.day.job.closed_at
    if closed is not None and entry.at <= closed:
        accepted = "a correction on the job's review, which stands beside what was closed"
        raise BadValueError(field="job", value="closed since", accepted=accepted)
    act = f"Took back from {entry.day}: {entry.who.name}, {entry.task} {entry.hours} h"
    if entry.row_from is not None and entry.row_to is not None:
        act += f", {rows_words(entry.row_from, entry.row_to)}"
    audit_job(job=entry.day.job, user=user, act=act)
    entry.delete()


def _beside(place: int, note: str, picture: StoredFile | None) -> tuple[str, StoredFile | None]:
    """Return note and picture for the first line, nothing for the others."""
    return ("", None) if place else (note, picture)


def _write(
    day: WorkDay, who: User, key: str, line: LogLine, note: str, picture: StoredFile | None
) -> LogEntry:
    row_from, row_to = line.rows or (None, None)
    return LogEntry.objects.create(
        day=day,
        who=who,
        key=key,
        task=line.task,
        zone=line.zone,
        hours=line.hours,
        planks_spoiled=line.spoiled,
        spoil_reason=line.reason if line.spoiled else "",
        photo=picture,
        note=note,
        row_from=row_from,
        row_to=row_to,
    )


def _stored(day: WorkDay, photo: Photo | None) -> StoredFile | None:
    if photo is None:
        return None
    return store_picture(
        company=day.job.company, upload=photo.upload, size=photo.size, name=photo.name
    )


def _check(day: WorkDay, who: User, lines: Sequence[LogLine], note: str) -> None:
    _check_work(day, lines, note)
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
    logged = LogEntry.objects.filter(who=who, day__date=day.date)
    total: Decimal | None = logged.aggregate(sum=Sum("hours"))["sum"]
    return total or ZERO


def _check_work(day: WorkDay, lines: Iterable[LogLine], note: str) -> None:
    """Refuse tasks outside the scope, rows outside the plan, tasks that a hold point blocks."""
    scope = scope_value(day.scope)
    tasks = {(task.code, task.zone): task for task in scope.tasks}
    holds = open_holds_of(day.job)
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
        blocking = [caution for caution in holds.values() if line.task in caution.blocks]
        if blocking and task is not None:
            accepted = "after a named person has cleared the hold point on the job's page"
            field = task.label + (f" ({line.zone})" if line.zone else "")
            value = f"on hold: {blocking[0].title}"
            raise BadValueError(field=field, value=value, accepted=accepted)


def _check_rows(rows: tuple[int, int], zone: str, of_plan: tuple[int, int] | None) -> None:
    shown = rows_words(*rows)
    if of_plan is None:
        raise BadValueError(field="rows", value=shown, accepted="none for this task")
    if rows[0] < of_plan[0] or rows[1] > of_plan[1]:
        accepted = f"rows of the plan of {zone}, {of_plan[0]} to {of_plan[1]}"
        raise BadValueError(field="rows", value=shown, accepted=accepted)
