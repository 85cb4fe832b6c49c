"""The floors of a scope as they are sold, and where they meet others at different heights."""

from __future__ import annotations

from collections.abc import Sequence

from estimates.domain.quotes.sold import SoldFloor
from jobs.domain.checks import BadValueError
from jobs.domain.scope.scope import FrozenScope, ScopeZone
from jobs.models import AlternativePlan, FloorPlan, FloorZone, Job
from jobs.readers.floors.alternatives import planned_otherwise
from jobs.readers.scope import inches


def plans_of(job: Job, scope: FrozenScope) -> list[FloorPlan]:
    """Return the plans of a scope: the floors' own, and those in other products.

    Raises BadValueError where one is no longer kept.
    """
    digests = {zone.plan_sha256 for zone in scope.zones}
    rows = FloorPlan.objects.filter(zone__job=job, document__sha256__in=digests)
    rows = rows.select_related("zone__product", "document", "request")
    floors, others = list(rows.prefetch_related("zone__rooms")), _otherwise(job, digests)
    plans = [_plan_of(part, floors, others) for part in scope.zones]
    return sorted(plans, key=lambda plan: plan.zone_id)


def _plan_of(
    part: ScopeZone, floors: Sequence[FloorPlan], others: Sequence[FloorPlan]
) -> FloorPlan:
    """Return the plan of one floor, in the product that the scope names where it has one.

    Boards of one size have one plan, however thick they are.
    """
    of_floor = [plan for plan in floors if _is_of(plan, part)]
    every = (*of_floor, *(plan for plan in others if _is_of(plan, part)))
    named = [plan for plan in every if plan.zone.product.name == part.product]
    for plan in (*named, *of_floor):
        return plan
    accepted = "a plan that is still kept; plan the floor and price the job again"
    raise BadValueError(field="plan of the estimate", value="gone", accepted=accepted)


def _is_of(plan: FloorPlan, part: ScopeZone) -> bool:
    is_floor = part.key in ("", f"floor-{plan.zone_id}")
    return is_floor and plan.document.sha256 == part.plan_sha256


def _otherwise(job: Job, digests: set[str]) -> list[FloorPlan]:
    rows = AlternativePlan.objects.filter(zone__job=job, document__sha256__in=digests)
    rows = rows.select_related("product", "zone__product", "zone__job", "document", "request")
    return [planned_otherwise(kept, kept.zone).plan for kept in rows]


def sold_floor(zone: FloorZone) -> SoldFloor:
    """Return what is laid on a floor."""
    product = zone.product
    return SoldFloor(
        product=product.name,
        core=product.core,
        thickness_in=inches(product.thickness_mm),
        width_in=inches(product.width_mm),
        length_in=inches(product.length_mm),
        attached_pad=product.attached_pad,
        pad=zone.pad and not product.attached_pad,
    )
