"""What the last carton of a floor leaves, and what its planks buy: looks, then fewer cuts. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from layout.values.material import Prefer
from layout.values.plan import Plan
from layout.values.request import PlanRequest


@dataclass(frozen=True, slots=True, kw_only=True)
class Gain:
    """One count of a plan before planks are spent and after."""

    label: str
    before: int
    after: int


def planks_left(request: PlanRequest, plan: Plan) -> int:
    """Return the planks that the cartons of a plan leave, spares aside.

    None are where planks were counted at hand, and where what is left may be spent already.
    """
    if request.on_hand is not None or spends(request):
        return 0
    totals = plan.totals
    return max(0, totals.cartons * request.product.per_carton - totals.planks - request.spares)


def spends(request: PlanRequest) -> bool:
    """Whether planks that are paid for already may be spent."""
    return request.spend is not None or request.prefer is Prefer.CARTONS


def could_buy(plan: Plan) -> bool:
    """Whether there is anything in a plan that planks could better: its looks, or its cuts."""
    look = plan.totals.look
    return look.h_joints + look.staircases + plan.totals.crosscuts > 0


def gains(before: Plan, after: Plan) -> tuple[Gain, ...]:
    """Return what planks that are spent change, looks first."""
    return tuple(
        Gain(label=label, before=was, after=now)
        for (label, was), (_, now) in zip(_counts(before), _counts(after), strict=True)
    )


def buys_something(before: Plan, after: Plan) -> bool:
    """Whether spent planks better the looks, or the cuts at equal looks, in no more cartons."""
    return after.totals.cartons <= before.totals.cartons and _worth(after) < _worth(before)


def _counts(plan: Plan) -> tuple[tuple[str, int], ...]:
    totals = plan.totals
    return (
        ("H-joints", totals.look.h_joints),
        ("Staircases", totals.look.staircases),
        ("Crosscuts", totals.crosscuts),
        ("Rips", totals.rips),
        ("Trapped pieces", sum(piece.trapped for piece in plan.pieces)),
        ("Planks", totals.planks),
        ("Cartons", totals.cartons),
    )


def _worth(plan: Plan) -> tuple[int, int, int]:
    look = plan.totals.look
    trapped = sum(piece.trapped for piece in plan.pieces)
    return look.h_joints + look.staircases, plan.totals.crosscuts + plan.totals.rips, trapped
