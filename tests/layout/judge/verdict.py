"""What the judge says of a plan, in the few words that its tests look at."""

from __future__ import annotations

from layout.judge.check import check_plan
from layout.values.plan import Plan
from layout.values.request import PlanRequest


def rules_broken(request: PlanRequest, plan: Plan) -> set[str]:
    """Return the rules of all faults."""
    return {fault.rule for fault in check_plan(request, plan)}


def places(request: PlanRequest, plan: Plan) -> set[str]:
    """Return where the faults are."""
    return {fault.where for fault in check_plan(request, plan)}
