"""Planks left over from one job and kept by us: taken for the floor of another."""

from __future__ import annotations

from datetime import date

from django.db import transaction
from django.db.models import Sum

from jobs.domain.checks import BadValueError
from jobs.models import FloorZone, Job, LeftoverStock, Product, User
from jobs.services.records import audit_job


@transaction.atomic
def keep_stock(
    *,
    product: Product,
    lot: str,
    planks: int,
    job: Job,
    day: date,
    user: User,
    stock: LeftoverStock | None = None,
) -> LeftoverStock:
    """Return the planks that a job left over and that are ours; ``stock`` is what they were.

    Raises BadValueError for less than a plank, and for planks that a floor has by now.
    """
    if planks < 1:
        accepted = "1 plank or more, or cartons"
        raise BadValueError(field="quantity", value=f"{planks} planks", accepted=accepted)
    kept = stock or LeftoverStock(company=product.company, source=job)
    if stock is not None and (kept.product_id, kept.lot, kept.planks) != (product.pk, lot, planks):
        _refuse_taken(stock)
    kept.product, kept.lot, kept.planks, kept.kept_on = product, lot, planks, day
    kept.save()
    audit_job(job=job, user=user, act=f"Kept {kept}")
    return kept


@transaction.atomic
def remove_stock(*, stock: LeftoverStock) -> None:
    """Strike planks out. Raises BadValueError where a floor has them by now."""
    _refuse_taken(stock)
    stock.delete()


@transaction.atomic
def take_stock(*, stock: LeftoverStock, zone: FloorZone, user: User) -> LeftoverStock:
    """Return the planks, kept for a floor, which is planned with them at hand; twice is once.

    Raises:
        BadValueError: another floor has them, they are of another product, or laying has begun.
    """
    kept = LeftoverStock.objects.select_for_update().get(pk=stock.pk)
    if kept.zone_id == zone.pk:
        return kept
    _refuse_taken(kept)
    if kept.product_id != zone.product_id:
        accepted = f"planks of {zone.product.name}, with which the floor is laid"
        raise BadValueError(field="product", value=kept.product.name, accepted=accepted)
    if zone.going_on:
        accepted = "a floor that is not begun; count its planks where it goes on"
        raise BadValueError(field="floor", value="begun", accepted=accepted)
    kept.zone = zone
    kept.save(update_fields=["zone"])
    _count(zone)
    audit_job(job=zone.job, user=user, act=f"Took {kept} for {zone}")
    return kept


@transaction.atomic
def give_back_stock(*, stock: LeftoverStock, user: User) -> LeftoverStock:
    """Return the planks, free for any floor again."""
    kept = LeftoverStock.objects.select_for_update().get(pk=stock.pk)
    zone = kept.zone
    if zone is not None:
        kept.zone = None
        kept.save(update_fields=["zone"])
        _count(zone)
        audit_job(job=zone.job, user=user, act=f"Gave back {kept} of {zone}")
    return kept


def free_other_stock(zone: FloorZone) -> None:
    """Let go the planks that a floor, not saved yet, had of another product than its own now."""
    if zone.stock.exclude(product=zone.product_id).update(zone=None):
        zone.stock_planks = 0


def _count(zone: FloorZone) -> None:
    """Keep with a floor how many planks of ours it has."""
    planks = zone.stock.aggregate(all=Sum("planks"))["all"] or 0
    FloorZone.objects.filter(pk=zone.pk).update(stock_planks=planks)
    zone.stock_planks = planks


def _refuse_taken(stock: LeftoverStock) -> None:
    if stock.zone is not None:
        value = f"kept for {stock.zone.name} of job {stock.zone.job.number}"
        accepted = "planks that no floor has; give them back there first"
        raise BadValueError(field="planks", value=value, accepted=accepted)
