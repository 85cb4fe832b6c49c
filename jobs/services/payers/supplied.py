"""Whose a job's material is, and what came of it: keyword-only, atomic, audited."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import NamedTuple

from django.db import transaction

from jobs.domain.checks import BadValueError
from jobs.domain.payers.supplied import (
    MaterialNeed,
    SuppliedCount,
    all_faults,
    material_needs,
    require_delivery,
)
from jobs.models import Job, SuppliedBy, SuppliedMaterial, SuppliedReceipt, User
from jobs.models.base import Values
from jobs.readers.payers.supplied import counts_of, supplied_rows
from jobs.readers.scope import agreed_scope_of
from jobs.services.records import StaleError, audit_job, writes_once
from jobs.services.scope import work_out

RECEIPT_FIELDS = ("counted", "faulty", "lot", "faults", "day")


class Whose(NamedTuple):
    """Who brings a material, and which lot was ordered."""

    whose: str
    lot: str = ""


def needs_now(job: Job) -> tuple[MaterialNeed, ...]:
    """Return what a job takes of each material: as agreed, else as it is planned now.

    Raises BadValueError where nothing is planned yet.
    """
    return material_needs(agreed_scope_of(job) or work_out(job))


def supplied_counts(job: Job) -> list[SuppliedCount]:
    """Return what came of all that is supplied, against what is needed; nothing where all is ours.

    What nobody can count yet is needed at nothing.
    """
    rows = supplied_rows(job)
    if not rows:
        return []
    try:
        needs = needs_now(job)
    except BadValueError:
        needs = ()
    return counts_of(job, rows, needs)


def supplied_faults(job: Job) -> tuple[str, ...]:
    """Return what is short or of a wrong lot of what is supplied, in sentences."""
    return all_faults(supplied_counts(job))


def version_of(rows: list[SuppliedMaterial]) -> int:
    """Return the version of all rows of a job together: it grows with every save of one."""
    return 1 + sum(row.version for row in rows)


@writes_once(Job, "say whose material")
def say_whose(
    *, job: Job, user: User, key: str, expected: int, chosen: Mapping[tuple[str, str], Whose]
) -> Job:
    """Return the job with what was said of its materials, by code and item.

    Raises:
        StaleError: somebody else saved first.
    """
    Job.objects.select_for_update().get(pk=job.pk)
    rows = {(row.code, row.item): row for row in job.supplied.all()}
    if version_of(list(rows.values())) != expected:
        current = SuppliedMaterial(job=job, version=version_of(list(rows.values())))
        raise StaleError(current, ())
    for (code, item), said in chosen.items():
        row = rows.get((code, item)) or SuppliedMaterial(job=job, code=code, item=item)
        if said == Whose(row.whose, row.lot_ordered):
            continue
        row.whose, row.lot_ordered = said
        row.version += 1
        row.save()
    theirs = ", ".join(str(row) for row in job.supplied.exclude(whose=SuppliedBy.OURS))
    audit_job(job=job, user=user, act=f"Material that is supplied: {theirs or 'none'}")
    return job


@writes_once(SuppliedReceipt, "count material")
def count_material(
    *, material: SuppliedMaterial, user: User, key: str, values: Values, today: date
) -> SuppliedReceipt:
    """Return the receipt of what came; the same form sent twice makes one.

    Raises:
        BadValueError: nothing came, more is faulty than came, a fault without words, a day to come.
    """
    require_delivery(material.code, values["counted"], values["faulty"])
    if values["faulty"] and not values["faults"].strip():
        accepted = "what is wrong with them, such as broken corners"
        raise BadValueError(field="faults", value="empty", accepted=accepted)
    if values["day"] > today:
        raise BadValueError(field="day", value=str(values["day"]), accepted=f"up to {today}")
    receipt = SuppliedReceipt.objects.create(material=material, user=user, **values)
    audit_job(job=material.job, user=user, act=f"Counted {receipt}")
    return receipt


@transaction.atomic
def remove_receipt(*, receipt: SuppliedReceipt, user: User) -> None:
    """Take away a receipt that was counted wrong; the audit line keeps what it said."""
    audit_job(job=receipt.material.job, user=user, act=f"Took away the count {receipt}")
    receipt.delete()
