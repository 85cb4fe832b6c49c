"""Callbacks: a trip back to a job that is closed, with a day whose log is its charge."""

from __future__ import annotations

from datetime import date

from django.utils import timezone

from jobs.domain.checks import BadValueError
from jobs.models import Callback, Crew, Job, User, WorkDay
from jobs.models.base import Values
from jobs.services.records import (
    audit_job,
    next_number,
    put_values,
    save_versioned,
    writes_once,
)


@writes_once(Callback, "open callback")
def open_callback(
    *, job: Job, user: User, key: str, values: Values, on: date, crew: Crew
) -> Callback:
    """Return the new callback of a closed job, with a day on which its crew logs the work.

    Where the job has a day on that date already, the callback is of that one.

    Raises:
        BadValueError: the job is open, so that its work is logged on its own days; or the day is
            one of another crew.
    """
    if job.closed_at is None or job.agreed_scope is None:
        accepted = "a closed job; while it is open, its work is logged on its days"
        raise BadValueError(field="job", value="open", accepted=accepted)
    day = WorkDay.objects.filter(job=job, date=on).first()
    if day is not None and (day.crew_id != crew.pk or day.log.exists()):
        value = f"{on.isoformat()}, a day of {day.crew.name} that is logged already"
        raise BadValueError(field="on", value=value, accepted="a day without a log of this job")
    if day is None:
        day = WorkDay.objects.create(
            job=job,
            scope=job.agreed_scope,
            crew=crew,
            date=on,
            number=next_number(job.days.all()),
            notes=[f"Callback: {values['what']}"],
            hours=0,
        )
    callback = Callback.objects.create(job=job, day=day, **values)
    audit_job(job=job, user=user, act=f"Opened a callback on {on}: {callback.what}")
    return callback


@writes_once(Callback, "change callback")
def change_callback(
    *, callback: Callback, user: User, key: str, expected: int, values: Values, settled: bool
) -> Callback:
    """Return the changed callback. Raises StaleError where somebody else saved first."""
    put_values(callback, values)
    callback.settled_at = (callback.settled_at or timezone.now()) if settled else None
    save_versioned(callback, expected=expected, names=("what", "cause", "settled_at"))
    audit_job(job=callback.job, user=user, act=f"Changed the callback: {callback.what}")
    return callback
