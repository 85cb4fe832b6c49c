"""Flights of stairs saved."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction

from jobs.models import Job, StairFlight, User
from jobs.services.records import audit, write_once
from jobs.services.saving import save_told

STAIR_FIELDS = (
    *("name", "product", "treads", "riser_boards", "nosings", "width_mm", "tread_mm", "risers"),
    *("treads_raised_mm", "below_raised_mm", "above_raised_mm"),
)


def add_stair(*, job: Job, user: User, key: str, values: Mapping[str, Any]) -> StairFlight:
    """Return the new flight of ``job``. Raises ValidationError where its name is taken."""

    def write() -> StairFlight:
        _refuse_taken(job, values["name"])
        row = StairFlight.objects.create(job=job, **values)
        _note(row, user, "Measured")
        return row

    rows = job.stairs.all()
    return write_once(company=job.company, key=key, action="add stair", rows=rows, write=write)


def change_stair(
    *, row: StairFlight, user: User, key: str, expected: int, values: Mapping[str, Any]
) -> StairFlight:
    """Return the changed flight. Raises StaleError, or ValidationError where its name is taken."""
    job = row.job

    def write() -> StairFlight:
        _refuse_taken(job, values["name"], row.pk)
        for name, value in values.items():
            setattr(row, name, value)
        save_told(row, expected=expected, names=STAIR_FIELDS, system=job.units)
        _note(row, user, "Changed")
        return row

    rows = job.stairs.all()
    return write_once(company=job.company, key=key, action="change stair", rows=rows, write=write)


@transaction.atomic
def remove_stair(*, row: StairFlight, user: User) -> None:
    """Remove a flight."""
    _note(row, user, "Removed")
    row.delete()


def _refuse_taken(job: Job, name: str, own: int = 0) -> None:
    """Refuse a name that another flight of the job has."""
    if job.stairs.filter(name=name).exclude(pk=own).exists():
        told = f"“{name}” is another flight of this job; accepted: a name of its own."
        raise ValidationError({"name": told})


def _note(row: StairFlight, user: User, act: str) -> None:
    job = row.job
    audit(user=user, company=job.company, subject=f"job {job.pk}", act=f"{act} {row}")
