"""A log entry undone; with the last one of a log goes what stood beside it."""

from __future__ import annotations

from django.db import transaction

from jobs.domain.checks import BadValueError
from jobs.domain.day_log.behind import holds_before
from jobs.domain.site.facts import Caution
from jobs.domain.tasks import OTHER, task_key
from jobs.models import DayLog, LogEntry, SiteFacts, User
from jobs.models.base import Values
from jobs.readers.day_log.beside import Beside, extras_from, goes_with, is_from
from jobs.readers.day_log.holds import let_go_of
from jobs.readers.days import open_holds_of, rows_words
from jobs.readers.log import task_name
from jobs.services.extras.extras import take_back_extra
from jobs.services.records import audit_job, save_versioned

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

    With the last entry of a log go its photographs, what it says beside, its readings, the holds
    that it cleared, its extra work, its lines of the punch list that nobody has put right yet, and
    what it says was put right. The log itself stays, empty: sent again, it counts once.

    Raises BadValueError for an entry that was there when its job was closed, for extra work that
    something was built on, and for a hold that work was logged behind since.
    """
    closed = entry.day.job.closed_at
    if closed is not None and entry.at <= closed:
        accepted = "a correction on the job's review, which stands beside what was closed"
        raise BadValueError(field="job", value="closed since", accepted=accepted)
    beside = goes_with(entry)
    audit_job(job=entry.day.job, user=user, act=_act(entry, beside))
    log = entry.log if beside.is_last else None
    entry.delete()
    if log is not None:
        _empty(log, user)


def _act(entry: LogEntry, beside: Beside) -> str:
    said = [f"Took back from {entry.day}: {entry.who.name}, {entry.task} {entry.hours} h"]
    if entry.row_from is not None and entry.row_to is not None:
        said.append(rows_words(entry.row_from, entry.row_to))
    return ", ".join([*said, *beside.words])


def _empty(log: DayLog, user: User) -> None:
    log.photos.all().delete()
    log.punch_items.filter(done_at__isnull=True).delete()
    log.punch_done.update(done_at=None, done_by=None, done_in=None)
    for extra in extras_from(log):
        take_back_extra(extra=extra, user=user)
    _close_holds_again(log)
    DayLog.objects.filter(pk=log.pk).update(**_EMPTY)


def _close_holds_again(log: DayLog) -> None:
    """Take away the readings of a log and the holds that it cleared, as no work hangs on them."""
    open_before = open_holds_of(log.day.job)
    site = SiteFacts.objects.select_for_update().filter(job=log.day.job_id).first()
    if site is not None:
        kept = [row for row in site.readings if not is_from(row, log)]
        if kept != site.readings:
            site.readings = kept
            save_versioned(site, expected=site.version, names=("readings",))
    log.clearances.all().delete()
    now = open_holds_of(log.day.job)
    _refuse_work_behind(log, tuple(now[code] for code in now if code not in open_before))


def _refuse_work_behind(log: DayLog, holds: tuple[Caution, ...]) -> None:
    let_go = let_go_of(log.day.job)
    since = LogEntry.objects.filter(day__job=log.day.job_id, at__gte=log.at).exclude(task=OTHER)
    for entry in since.select_related("day") if holds else ():
        held = holds_before(entry.task, task_key(entry.task, entry.zone), holds, let_go)
        if held:
            value = f"what opened “{held[0].title}”, and {task_name(entry)} was logged behind it "
            value += f"on {entry.day.date:%b} {entry.day.date.day}"
            accepted = "an entry that no later work hangs on; undo that work first"
            raise BadValueError(field="log", value=value, accepted=accepted)
