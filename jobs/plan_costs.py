"""What each plan of a floor costs beside the others: planks, cartons, cuts, looks."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass

from jobs.models import FloorPlan, FloorZone

_PREFERENCES = dict(FloorZone._meta.get_field("prefer").choices or ())  # noqa: SLF001  public


@dataclass(frozen=True, kw_only=True, slots=True)
class PlanCost:
    """One stored plan with what it was asked to prefer and what that came to."""

    plan: FloorPlan
    prefers: str
    crosscuts: int
    rips: int
    h_joints: int


def plan_costs(plans: Iterable[FloorPlan]) -> list[PlanCost]:
    """Return what each plan says it costs, in the order given."""
    return [_cost(plan) for plan in plans]


def _cost(plan: FloorPlan) -> PlanCost:
    totals = json.loads(plan.document.text)["totals"]
    prefer = json.loads(plan.request.text).get("prefer", "planks")
    return PlanCost(
        plan=plan,
        prefers=str(_PREFERENCES[prefer]),
        crosscuts=totals["crosscuts"],
        rips=totals["rips"],
        h_joints=totals["look"]["h_joints"],
    )
