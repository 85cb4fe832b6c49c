"""A person's day that is asked about: which of its hours count, said by a name."""

from __future__ import annotations

from datetime import date

from django.db import transaction
from django.db.models import QuerySet

from jobs.domain.checks import BadValueError, require_choice
from jobs.models import HoursStanding, LogEntry, User
from jobs.services.records import audit_job

ALL, FIRST, LAST = "all", "first", "last"
ANSWERS = {
    ALL: "All of it was worked",
    FIRST: "Only what was said first",
    LAST: "Only what was said last",
}


@transaction.atomic
def answer_hours(*, person: User, on: date, user: User, answer: str) -> int:
    """Let the hours of a person's day count as answered; return how many entries now count.

    Raises BadValueError for an answer that is none, and where hours that would no longer count
    stand in the review of a job that is closed.
    """
    require_choice("answer", answer, ANSWERS)
    entries = list(hours_of_day(person, on).select_for_update(of=("self",)))
    waiting = [entry for entry in entries if entry.standing in (_OVER, _PHONES)]
    if not waiting:
        return sum(entry.standing == _COUNTS for entry in entries)
    counting = _counting(entries, waiting, answer)
    for entry in entries:
        wanted = _COUNTS if entry.pk in counting else _OUT
        _let(entry, wanted)
    shown = f"{on:%b} {on.day}"
    act = f"Answered for {person.name}, {shown}: {ANSWERS[answer].lower()}"
    for job in {entry.day.job for entry in entries}:
        audit_job(job=job, user=user, act=act)
    return len(counting)


_COUNTS, _OUT = HoursStanding.COUNTS.value, HoursStanding.OUT.value
_OVER, _PHONES = HoursStanding.OVER.value, HoursStanding.PHONES.value


def hours_of_day(person: User, on: date) -> QuerySet[LogEntry]:
    """Return the entries of a person's day, on whatever job, in the order they were written."""
    rows = LogEntry.objects.filter(who=person, day__date=on, hours__gt=0)
    return rows.select_related("day__job__company").order_by("at", "pk")


def _counting(entries: list[LogEntry], waiting: list[LogEntry], answer: str) -> set[int]:
    """Return the keys of the entries that count after an answer."""
    if answer == ALL:
        return {entry.pk for entry in entries if entry.standing != _OUT}
    logs = list(dict.fromkeys(entry.log_id for entry in entries if entry.standing != _OUT))
    wanted = logs[0] if answer == FIRST else logs[-1]
    return {entry.pk for entry in entries if entry.log_id == wanted}


def _let(entry: LogEntry, standing: str) -> None:
    if entry.standing == standing:
        return
    closed = entry.day.job.closed_at
    if standing == _OUT and entry.standing == _COUNTS and closed and entry.at <= closed:
        accepted = "a correction on the job's review, which stands beside what was closed"
        raise BadValueError(field=f"job {entry.day.job.number}", value="closed", accepted=accepted)
    LogEntry.objects.filter(pk=entry.pk).update(standing=standing)
