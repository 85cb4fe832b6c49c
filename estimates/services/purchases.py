"""Purchases of a job: keyword-only, atomic, audited, once for each form sent."""

from __future__ import annotations

from django.db import transaction

from estimates.models import Purchase
from jobs.models import Job, User
from jobs.models.base import Values
from jobs.services.records import audit_job, put_values, save_versioned, writes_once

PURCHASE_FIELDS = (
    *("code", "label", "supplier", "quantity"),
    *("unit", "amount", "bought_on", "note"),
)


@writes_once(Purchase, "add purchase")
def add_purchase(*, job: Job, user: User, key: str, values: Values) -> Purchase:
    """Return the new purchase of ``job``; the same form sent twice makes one."""
    purchase = Purchase.objects.create(job=job, **values)
    audit_job(job=job, user=user, act=f"Bought {purchase}")
    return purchase


@writes_once(Purchase, "change purchase")
def change_purchase(
    *, purchase: Purchase, user: User, key: str, expected: int, values: Values
) -> Purchase:
    """Return the changed purchase. Raises StaleError where somebody else saved first."""
    put_values(purchase, values)
    save_versioned(purchase, expected=expected, names=PURCHASE_FIELDS)
    audit_job(job=purchase.job, user=user, act=f"Changed the purchase {purchase}")
    return purchase


@transaction.atomic
def remove_purchase(*, purchase: Purchase, user: User) -> None:
    """Strike a purchase out of the book; the audit line keeps what it was."""
    audit_job(job=purchase.job, user=user, act=f"Removed the purchase {purchase}")
    purchase.delete()
