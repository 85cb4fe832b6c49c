"""Purchases of a job: keyword-only, atomic, audited, once for each form sent."""

from __future__ import annotations

from decimal import ROUND_FLOOR, Decimal

from django.db import transaction
from django.db.models import Sum

from estimates.domain.price_book import OTHER
from estimates.models import Purchase, PurchaseOf
from jobs.domain.checks import BadValueError
from jobs.models import Job, StoredFile, User
from jobs.models.base import Values
from jobs.services.files import store_picture
from jobs.services.floors.stock import keep_stock, remove_stock
from jobs.services.log import Photo
from jobs.services.records import audit_job, put_values, save_versioned, writes_once

PURCHASE_FIELDS = (
    *("kind", "code", "label", "supplier", "quantity", "unit", "amount", "bought_on"),
    *("product", "lot", "note"),
)


def add_purchase(
    *, job: Job, user: User, key: str, values: Values, receipt: Photo | None = None
) -> Purchase:
    """Return the new purchase of ``job``; the same form sent twice makes one.

    What is kept for another job is planks of ours from then on. The receipt is written anew before
    anything is kept, so that others may write meanwhile.

    Raises:
        BadValueError: the receipt is no picture, less than a plank is kept, or more is returned
            than was bought.
    """
    return _add(job=job, user=user, key=key, values=values, picture=_stored(job, receipt))


@writes_once(Purchase, "add purchase")
def _add(*, job: Job, user: User, key: str, values: Values, picture: StoredFile | None) -> Purchase:
    purchase = Purchase(job=job, receipt=picture, **values)
    _refuse_more_returned(purchase)
    purchase.save()
    _put_stock(purchase, user)
    audit_job(job=job, user=user, act=f"{purchase.get_kind_display()}: {purchase}")
    return purchase


def change_purchase(
    *,
    purchase: Purchase,
    user: User,
    key: str,
    expected: int,
    values: Values,
    receipt: Photo | None = None,
) -> Purchase:
    """Return the changed purchase.

    Raises:
        StaleError: somebody else saved first.
        BadValueError: its job was closed since it was put down, its planks are kept for a floor
            already, the receipt is no picture, or more is returned than was bought.
    """
    picture = _stored(purchase.job, receipt)
    return _change(
        purchase=purchase, user=user, key=key, expected=expected, values=values, picture=picture
    )


@writes_once(Purchase, "change purchase")
def _change(
    *,
    purchase: Purchase,
    user: User,
    key: str,
    expected: int,
    values: Values,
    picture: StoredFile | None,
) -> Purchase:
    _refuse_closed(purchase)
    put_values(purchase, values)
    _refuse_more_returned(purchase)
    if picture is not None:
        purchase.receipt = picture
    save_versioned(purchase, expected=expected, names=(*PURCHASE_FIELDS, "callback", "receipt"))
    _put_stock(purchase, user)
    audit_job(job=purchase.job, user=user, act=f"Changed the purchase {purchase}")
    return purchase


@transaction.atomic
def remove_purchase(*, purchase: Purchase, user: User) -> None:
    """Strike a purchase out of the book; the audit line keeps what it was.

    Raises BadValueError where its job was closed since, or its planks are kept for a floor.
    """
    _refuse_closed(purchase)
    audit_job(job=purchase.job, user=user, act=f"Removed the purchase {purchase}")
    stock = purchase.stock
    purchase.delete()
    if stock is not None:
        remove_stock(stock=stock)


def _refuse_closed(purchase: Purchase) -> None:
    """Refuse to change what a frozen review counted."""
    closed = purchase.job.closed_at
    if closed is not None and purchase.created_at <= closed:
        accepted = "a purchase or a return of its own, which stands beside the review"
        raise BadValueError(field="job", value="closed since", accepted=accepted)


def _refuse_more_returned(purchase: Purchase) -> None:
    """Refuse to return more of something than was bought of it for the job, in the same unit."""
    if purchase.kind != PurchaseOf.RETURNED:
        return
    Job.objects.select_for_update().get(pk=purchase.job_id)
    bought, before = (_noted(purchase, kind) for kind in (PurchaseOf.BOUGHT, PurchaseOf.RETURNED))
    if purchase.quantity > bought - before:
        unit = purchase.unit
        accepted = f"up to {bought - before:f} {unit}, as {bought:f} were bought for this job"
        accepted += f" and {before:f} returned before" if before else ""
        value = f"{Decimal(purchase.quantity).normalize():f} {unit} returned"
        raise BadValueError(field="quantity", value=value, accepted=accepted)


def _noted(purchase: Purchase, kind: PurchaseOf) -> Decimal:
    """Return how much of the same thing the other lines of its job say, in its unit."""
    others = Purchase.objects.filter(job=purchase.job_id, kind=kind, unit__iexact=purchase.unit)
    others = others.filter(code=purchase.code).exclude(pk=purchase.pk)
    if purchase.code == OTHER:
        others = others.filter(label__iexact=purchase.label)
    total: Decimal | None = others.aggregate(sum=Sum("quantity"))["sum"]
    return (total or Decimal(0)).normalize()


def _stored(job: Job, receipt: Photo | None) -> StoredFile | None:
    if receipt is None:
        return None
    return store_picture(
        company=job.company, upload=receipt.upload, size=receipt.size, name=receipt.name
    )


def _put_stock(purchase: Purchase, user: User) -> None:
    """Keep the planks of what is kept for another job, as many as the purchase says."""
    product, stock = purchase.product, purchase.stock
    if purchase.kind != PurchaseOf.KEPT or product is None:
        if stock is not None:
            purchase.stock = None
            purchase.save(update_fields=["stock"])
            remove_stock(stock=stock)
        return
    each = product.carton_boards if purchase.unit == "carton" else 1
    purchase.stock = keep_stock(
        product=product,
        lot=purchase.lot,
        planks=int((purchase.quantity * each).to_integral_value(ROUND_FLOOR)),
        job=purchase.job,
        day=purchase.bought_on,
        user=user,
        stock=stock,
    )
    purchase.save(update_fields=["stock"])
