"""The drawings of a stored plan, made from its frozen documents alone."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.db.models import OuterRef, Subquery

from jobs.domain.formats import BrokenDocumentError
from jobs.domain.plans.stored import StoredPlan
from jobs.models import FloorPlan, FloorZone
from jobs.readers.stored_plan import stored_plan
from layout.drawing.piece import draw_piece
from layout.drawing.plan import draw_plan
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from layout.values.sheet import CutSheet


def plan_picture(plan: FloorPlan, *, numbers: bool = True, read: StoredPlan | None = None) -> str:
    """Return a stored plan as an SVG that stands alone, and beside others in one document.

    ``read``: its documents, where they are read already.
    """
    stored = read or stored_plan(plan)
    return draw_plan(
        stored.request, stored.plan, title=plan.zone.name, ident=f"floor-{plan.pk}", numbers=numbers
    )


def piece_picture(request: PlanRequest, plan: Plan, sheet: CutSheet, piece_id: str) -> str:
    """Return one piece as an SVG, "" where nothing is cut. Raises KeyError for no such one."""
    return draw_piece(request, plan, sheet, piece_id, ident=f"piece-{piece_id}")


def newest_plans(zones: Sequence[FloorZone]) -> dict[int, FloorPlan]:
    """Return the newest plan of each of these floors that has one, by the floor's pk."""
    floors = {zone.pk: zone for zone in zones}
    newest = FloorPlan.objects.filter(zone=OuterRef("zone")).order_by("-number").values("pk")[:1]
    plans = FloorPlan.objects.filter(zone__in=zones, pk=Subquery(newest))
    plans = plans.select_related("request", "document")
    for plan in plans:
        plan.zone = floors[plan.zone_id]
    return {plan.zone_id: plan for plan in plans}


_PREFERENCES = dict(FloorZone._meta.get_field("prefer").choices or ())  # noqa: SLF001  public


@dataclass(frozen=True, kw_only=True, slots=True)
class PlanCost:
    """One stored plan with what it was asked to prefer and what that came to.

    ``broken`` where the plan can't be read: then nothing else is known of it.
    """

    plan: FloorPlan
    prefers: str = ""
    crosscuts: int | None = None
    rips: int | None = None
    h_joints: int | None = None
    broken: bool = False


def plan_costs(plans: Iterable[FloorPlan]) -> list[PlanCost]:
    """Return what each plan says it costs, in the order given."""
    return [_cost(plan) for plan in plans]


def _cost(plan: FloorPlan) -> PlanCost:
    try:
        stored = stored_plan(plan)
    except BrokenDocumentError:
        return PlanCost(plan=plan, broken=True)
    totals = stored.plan.totals
    return PlanCost(
        plan=plan,
        prefers=str(_PREFERENCES[stored.request.prefer.value]),
        crosscuts=totals.crosscuts,
        rips=totals.rips,
        h_joints=totals.look.h_joints,
    )
