"""A job's allowances: added from an offer or by hand, changed, taken off; atomic, audited."""

from __future__ import annotations

from django.db import transaction

from estimates.domain.terms.allowances import FREE
from estimates.models import JobAllowance
from jobs.domain.checks import BadValueError
from jobs.models import Job, User
from jobs.models.base import Values
from jobs.services.records import audit_job, put_values, save_versioned, writes_once

ALLOWANCE_FIELDS = (*("label", "units", "unit", "unit_cost", "unit_price", "evidence", "taxable"),)


@writes_once(JobAllowance, "add allowance")
def add_allowance(
    *, job: Job, user: User, key: str, values: Values, kind: str = FREE
) -> JobAllowance:
    """Return the new allowance of a job; the same form sent twice makes one.

    Raises:
        BadValueError: the job has one of this kind, which is changed where it stands.
    """
    there = job.allowances.filter(kind=kind).exclude(kind=FREE).first()
    if there is not None:
        accepted = "a change of the one that is there"
        raise BadValueError(field="allowance", value=f"“{there}” is there", accepted=accepted)
    allowance = JobAllowance.objects.create(job=job, kind=kind, **values)
    audit_job(job=job, user=user, act=f"Added the allowance “{_said(allowance)}”")
    return allowance


@writes_once(JobAllowance, "change allowance")
def change_allowance(
    *, allowance: JobAllowance, user: User, key: str, expected: int, values: Values
) -> JobAllowance:
    """Return the changed allowance. Raises StaleError where somebody else saved first."""
    put_values(allowance, values)
    save_versioned(allowance, expected=expected, names=ALLOWANCE_FIELDS)
    audit_job(job=allowance.job, user=user, act=f"Changed the allowance “{_said(allowance)}”")
    return allowance


@transaction.atomic
def remove_allowance(*, allowance: JobAllowance, user: User) -> None:
    """Take an allowance off a job's price; the audit line keeps what it was."""
    audit_job(job=allowance.job, user=user, act=f"Took off the allowance “{_said(allowance)}”")
    allowance.delete()


def _said(allowance: JobAllowance) -> str:
    most = f"up to {allowance.units.normalize():f} {allowance.unit}"
    return f"{allowance.label[:60]}, {most} at {allowance.unit_price}"
