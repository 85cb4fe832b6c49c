"""Entries of logs as they count: with the hours that a correction gave them, callbacks apart."""

from __future__ import annotations

from decimal import Decimal

from django.db.models import Exists, OuterRef, QuerySet, Subquery

from jobs.clock import day_of
from jobs.models import Callback, HoursStanding, Job, LogCorrection, LogEntry


def counted_entries(rows: QuerySet[LogEntry]) -> QuerySet[LogEntry]:
    """Return entries with their days, each with what tells its hours and whether it is a callback.

    No further query for any of them.
    """
    corrections = LogCorrection.objects.filter(entry=OuterRef("pk")).order_by("-at", "-pk")
    return rows.select_related("day").annotate(
        corrected=Subquery(corrections.values("hours")[:1]),
        called_back=Exists(Callback.objects.filter(day=OuterRef("day"))),
    )


def hours_counted(entry: LogEntry) -> Decimal:
    """Return the hours of an entry of `counted_entries`, as they were corrected last.

    Hours that are asked about don't count yet, and those that were said twice no more; rows and
    planks of such an entry are as they are.
    """
    if entry.standing != HoursStanding.COUNTS:
        return Decimal(0)
    corrected: Decimal | None = getattr(entry, "corrected", None)
    return entry.hours if corrected is None else corrected


def is_callback(entry: LogEntry, job: Job) -> bool:
    """Whether an entry of `counted_entries` is of a callback: its day is one, or after closing.

    What was in the log when the job was closed is of the job, whatever date its day lies on.
    """
    if getattr(entry, "called_back", False):
        return True
    if job.closed_at is None or entry.at <= job.closed_at:
        return False
    return entry.day.date > day_of(job.closed_at, job.company)
