"""Purchases of a job: keyword-only, atomic, audited, once for each form sent."""

from __future__ import annotations

from typing import Any

from django.db import transaction

from estimates.models import Purchase
from jobs.models import Job, User
from jobs.services.records import audit, save_versioned, write_once

PURCHASE_FIELDS = (
    *("code", "label", "supplier", "quantity"),
    *("unit", "amount", "bought_on", "note"),
)


def add_purchase(*, job: Job, user: User, key: str, values: dict[str, Any]) -> Purchase:
    """Return the new purchase of ``job``; the same form sent twice makes one."""

    def write() -> Purchase:
        purchase = Purchase.objects.create(job=job, **values)
        _note(purchase, user, f"Bought {purchase}")
        return purchase

    return write_once(
        company=job.company, key=key, action="add purchase", rows=job.purchases.all(), write=write
    )


def change_purchase(*, purchase: Purchase, user: User, key: str, expected: int) -> Purchase:
    """Save an edited purchase. Raises StaleError where somebody else saved first."""
    job = purchase.job

    def write() -> Purchase:
        save_versioned(purchase, expected=expected, names=PURCHASE_FIELDS)
        _note(purchase, user, f"Changed the purchase {purchase}")
        return purchase

    return write_once(
        company=job.company,
        key=key,
        action="change purchase",
        rows=job.purchases.all(),
        write=write,
    )


@transaction.atomic
def remove_purchase(*, purchase: Purchase, user: User) -> None:
    """Strike a purchase out of the book; the audit line keeps what it was."""
    _note(purchase, user, f"Removed the purchase {purchase}")
    purchase.delete()


def _note(purchase: Purchase, user: User, act: str) -> None:
    company = purchase.job.company
    audit(user=user, company=company, subject=f"job {purchase.job_id}", act=act)
