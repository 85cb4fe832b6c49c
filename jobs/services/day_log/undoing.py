"""A log entry undone; with the last one of a log goes what stood beside it."""

from __future__ import annotations

from django.db import transaction

from jobs.domain.checks import BadValueError
from jobs.models import DayLog, LogEntry, User
from jobs.models.base import Values
from jobs.readers.day_log.beside import Beside, goes_with
from jobs.readers.days import rows_words
from jobs.services.records import audit_job

_EMPTY: Values = {
    "note": "",
    "in_the_way": [],
    "cartons": None,
    "lot": "",
    "last_width": "",
    "broken": 0,
    "signed_by": "",
}
"""What a log says beside its entries, as it is where it says nothing."""


@transaction.atomic
def take_back(*, entry: LogEntry, user: User) -> None:
    """Remove a log entry that was a mistake; the audit line keeps what it said.

    With the last entry of a log go its photographs, what it says beside, and its lines of the punch
    list that nobody has put right yet. The log itself stays, empty: sent again, it counts once.

    Raises BadValueError for an entry that was there when its job was closed.
    """
    closed = entry.day.job.closed_at
    if closed is not None and entry.at <= closed:
        accepted = "a correction on the job's review, which stands beside what was closed"
        raise BadValueError(field="job", value="closed since", accepted=accepted)
    beside = goes_with(entry)
    audit_job(job=entry.day.job, user=user, act=_act(entry, beside))
    if entry.log is not None and beside.is_last:
        _empty(entry.log)
    entry.delete()


def _act(entry: LogEntry, beside: Beside) -> str:
    said = [f"Took back from {entry.day}: {entry.who.name}, {entry.task} {entry.hours} h"]
    if entry.row_from is not None and entry.row_to is not None:
        said.append(rows_words(entry.row_from, entry.row_to))
    return ", ".join([*said, *beside.words])


def _empty(log: DayLog) -> None:
    log.photos.all().delete()
    log.punch_items.filter(done_at__isnull=True).delete()
    DayLog.objects.filter(pk=log.pk).update(**_EMPTY)
