"""Rows that lie across a hall: said, and compared with rows down its length. Pure.

A lead lays a hall under 5 ft down its length: common practice, no source.
"""

from __future__ import annotations

from jobs.domain.lengths import core_length_words
from layout.planner.proposal import ACROSS_DEG, crosswise_halls, turn_between
from layout.values.advice import DirectionCost
from layout.values.plan import Plan
from layout.values.request import PlanRequest


def hall_sentences(request: PlanRequest, plan: Plan) -> list[str]:
    """Return a sentence for every hall that the rows lie across, and what rows down it take."""
    halls = crosswise_halls(request.zone, request.unit, plan.direction_deg)
    words = [
        f"The rows lie across a hall {core_length_words(hall.width, request.unit)} wide. "
        "A hall under 5 ft is laid down its length (common practice, no source)."
        for hall in halls
    ]
    if halls and (cost := _down(plan, halls[0].direction_deg)) is not None:
        words.append(_compared(plan, cost))
    return words


def _down(plan: Plan, direction_deg: float) -> DirectionCost | None:
    """Return what the direction nearest to a hall's length would have cost, where compared."""
    near = [
        cost
        for cost in plan.directions
        if turn_between(cost.direction_deg, direction_deg) <= ACROSS_DEG
    ]
    return min(near, key=lambda cost: cost.planks, default=None)


def _compared(plan: Plan, cost: DirectionCost) -> str:
    """Return two directions side by side: planks, cartons and cuts."""
    totals = plan.totals
    here = _costs(totals.planks, totals.cartons, totals.crosscuts + totals.rips)
    there = _costs(cost.planks, cost.cartons, cost.crosscuts + cost.rips)
    return f"At {cost.direction_deg:g}°, down the hall: {there}. As planned here: {here}."


def _costs(planks: int, cartons: int, cuts: int) -> str:
    return f"{planks} planks, {cartons} cartons, {cuts} cuts"
