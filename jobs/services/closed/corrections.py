"""Corrections of the log of a closed job: dated entries beside it, which stays as it was."""

from __future__ import annotations

from decimal import Decimal

from jobs.domain.checks import BadValueError
from jobs.models import LogCorrection, LogEntry, User
from jobs.services.records import audit_job, writes_once


@writes_once(LogCorrection, "correct log")
def correct_entry(
    *, entry: LogEntry, user: User, key: str, hours: Decimal, reason: str
) -> LogCorrection:
    """Return the correction: the hours that an entry of a closed job should have said, and why.

    Raises BadValueError while the job is open: then the entry is taken back and entered anew.
    """
    job = entry.day.job
    if job.closed_at is None:
        accepted = "a closed job; while it is open, take the entry back and log it anew"
        raise BadValueError(field="job", value="open", accepted=accepted)
    correction = LogCorrection.objects.create(entry=entry, hours=hours, reason=reason, who=user)
    act = f"Corrected {entry.task} of {entry.who.name} on {entry.day}: {hours} h. {reason}"
    audit_job(job=job, user=user, act=act)
    return correction
