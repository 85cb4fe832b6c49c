"""Flights of stairs saved."""

from __future__ import annotations

from django.core.exceptions import ValidationError
from django.db import transaction

from jobs.models import Job, Removal, RemovedKind, StairFlight, User
from jobs.models.base import Values
from jobs.services.archive.removals import take_out
from jobs.services.records import audit_job, put_values, writes_once
from jobs.services.saving import save_measured

STAIR_FIELDS = (
    *("name", "product", "treads", "riser_boards", "nosings", "width_mm", "tread_mm", "risers"),
    *("treads_raised_mm", "below_raised_mm", "above_raised_mm"),
)


@writes_once(StairFlight, "add stair")
def add_stair(*, job: Job, user: User, key: str, values: Values) -> StairFlight:
    """Return the new flight of ``job``. Raises ValidationError where its name is taken."""
    _refuse_taken(job, values["name"])
    row = StairFlight.objects.create(job=job, **values)
    audit_job(job=job, user=user, act=f"Measured {row}")
    return row


@writes_once(StairFlight, "change stair")
def change_stair(
    *, row: StairFlight, user: User, key: str, expected: int, values: Values
) -> StairFlight:
    """Return the changed flight. Raises StaleError, or ValidationError where its name is taken."""
    job = row.job
    _refuse_taken(job, values["name"], but=row.pk)
    put_values(row, values)
    save_measured(row, expected=expected, names=STAIR_FIELDS, system=job.units)
    audit_job(job=job, user=user, act=f"Changed {row}")
    return row


@transaction.atomic
def remove_stair(*, row: StairFlight, user: User) -> Removal:
    """Return what is kept of a flight removed."""
    job = row.job
    audit_job(job=job, user=user, act=f"Removed {row}")
    kind = RemovedKind.STAIR
    return take_out(row, kind=kind, company=job.company, user=user, where=str(job))


def _refuse_taken(job: Job, name: str, *, but: int = 0) -> None:
    """Refuse a name that another flight of the job has."""
    if job.stairs.filter(name=name).exclude(pk=but).exists():
        message = f"“{name}” is another flight of this job; accepted: a name of its own."
        raise ValidationError({"name": message})
