"""The drawings of a stored plan, made from its frozen documents alone."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass

from jobs.models import FloorPlan, FloorZone
from layout.drawing.piece import draw_piece
from layout.drawing.plan import draw_plan
from layout.values.plan import Plan
from layout.values.plan_form import read_plan
from layout.values.request import PlanRequest, read_request


def plan_picture(
    plan: FloorPlan, *, numbers: bool = True, read: tuple[PlanRequest, Plan] | None = None
) -> str:
    """Return a stored plan as an SVG that stands alone, and beside others in one document.

    ``read``: its documents, where they are read already.
    """
    request, told = read or read_documents(plan)
    return draw_plan(request, told, title=plan.zone.name, ident=f"floor-{plan.pk}", numbers=numbers)


def read_documents(plan: FloorPlan) -> tuple[PlanRequest, Plan]:
    """Return what a stored plan was asked for, and the plan, as the layout core's values."""
    asked = read_request(json.loads(plan.request.text))
    return asked, read_plan(json.loads(plan.document.text))


def piece_picture(request: PlanRequest, plan: Plan, piece_id: str) -> str:
    """Return one cut piece as an SVG, "" for a whole board. Raises KeyError for no such one."""
    piece = next((one for one in plan.pieces if one.id == piece_id), None)
    if piece is not None and not piece.cuts:
        return ""
    return draw_piece(request, plan, piece_id, ident=f"piece-{piece_id}")


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
