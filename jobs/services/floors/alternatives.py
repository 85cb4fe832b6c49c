"""Plans of floors in other products: kept to be offered, and taken when somebody accepts them."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from django.db import transaction

from jobs.domain.checks import BadValueError
from jobs.domain.scope.scope import FrozenScope
from jobs.models import AlternativePlan, FloorPlan, FloorZone, Job, Product, User
from jobs.readers.floors.alternatives import ALTERED, PlannedOtherwise, planned_otherwise
from jobs.readers.floors.floors import floor_rows
from jobs.readers.floors.suitability import fitness_of
from jobs.readers.plan_request import whats_changed
from jobs.services.floors.stock import free_other_stock
from jobs.services.openings.doorways import follow_proposals
from jobs.services.plans import JudgedPlan, freeze_judged, put_plan
from jobs.services.records import audit_job
from jobs.services.saving import save_measured

INSTEAD = "another choice of this quote, or a new quote; please ask us"


@transaction.atomic
def keep_alternative(
    *,
    zone: FloorZone,
    product: Product,
    direction_deg: Decimal,
    judged: JudgedPlan,
    user: User | None,
) -> AlternativePlan:
    """Return a plan of a floor in another product, kept beside the floor's own."""
    request, document = freeze_judged(zone=zone, judged=judged, user=user)
    return AlternativePlan.objects.create(
        zone=zone,
        product=product,
        direction_deg=direction_deg,
        document=document,
        request=request,
    )


@transaction.atomic
def take_alternatives(
    *, job: Job, scope: FrozenScope, product: int, user: User | None
) -> tuple[FloorPlan, ...]:
    """Return the plans that floors now have: those in a product that a scope was counted from.

    Each such floor gets the product, the direction and the plan that the scope is of, and the
    treatments of doorways follow. Nothing is written where one of them can't be.

    Raises:
        BadValueError: a plan is gone, or no longer fits the rooms; the product may not lie there;
            or rows are down.
    """
    others = _of_scope(job, scope, product)
    plans = [_take(other, job, user) for other in others]
    follow_proposals(job=job)
    for plan in plans:
        _refuse(plan.zone, whats_changed(plan))
    return tuple(plans)


def _of_scope(job: Job, scope: FrozenScope, product: int) -> list[PlannedOtherwise]:
    """Return the floors of a scope that are in another product, those locked and looked at.

    Boards of one size have one plan, however thick they are: a floor that has the plan may still
    be in another product.
    """
    list(job.rooms.select_for_update().values_list("pk"))
    locked = job.zones.select_for_update(of=("self",)).select_related("product", "job__company")
    zones = {f"floor-{zone.pk}": zone for zone in locked}
    rows = floor_rows(zones.values())
    others = []
    for part in scope.zones:
        zone = zones.get(part.key)
        if zone is None:
            raise _gone(part.name)
        has_it = zone.plans.filter(document__sha256=part.plan_sha256).exists()
        if not has_it or part.product != zone.product.name:
            other = planned_otherwise(_kept(zone, product, part.plan_sha256), zone)
            _refuse(zone, other.misfit(rows[zone.pk]), other.zone)
            others.append(other)
    return others


def _kept(zone: FloorZone, product: int, sha256: str) -> AlternativePlan:
    rows = zone.alternatives.select_related("product", "document", "request")
    kept = rows.filter(product=product, document__sha256=sha256).first()
    if kept is None:
        raise _gone(zone.name)
    return kept


def _take(other: PlannedOtherwise, job: Job, user: User | None) -> FloorPlan:
    free_other_stock(other.zone)
    zone = save_measured(other.zone, expected=other.zone.version, names=ALTERED, system=job.units)
    act = f"Took {zone.product} at {zone.direction_deg:g}° for {zone}, as chosen"
    audit_job(job=job, user=user, act=act)
    return put_plan(zone=zone, request=other.kept.request, document=other.kept.document, user=user)


def _refuse(zone: FloorZone, misfit: str, other: FloorZone | None = None) -> None:
    """Refuse a floor that is no longer as its plan has it, is begun, or can't have the product."""
    if zone.going_on:
        raise _outdated(f"the floor {zone} is begun")
    if misfit:
        raise _outdated(f"{zone} changed since it was priced")
    faults: Sequence[object] = fitness_of(other).faults if other is not None else ()
    if other is not None and faults:
        raise _outdated(f"{other.product} may not lie in {zone}")


def _gone(name: str) -> BadValueError:
    return _outdated(f"the plan of {name} is gone")


def _outdated(why: str) -> BadValueError:
    return BadValueError(field="choice", value=f"out of date: {why}", accepted=INSTEAD)
