"""Rows across a hall: said with its width, compared with rows down it where these were planned."""

from __future__ import annotations

from dataclasses import replace

import pytest

from jobs.domain.plans.halls import hall_sentences
from layout.planner.plan_floor import plan_floor
from layout.values.material import Board, Flooring, LayingRules
from layout.values.outline import Zone
from layout.values.request import PlanRequest


def hall(direction_deg: float | None) -> PlanRequest:
    """Return a hall of 46 by 254 in, its length along y."""
    rules = LayingRules(
        expansion_gap=0.25,
        saw_kerf=0.125,
        min_end_piece=8,
        min_joint_offset=8,
        min_row_width=2,
        direction_deg=direction_deg,
    )
    return PlanRequest(
        unit="in",
        zone=Zone(outline=((0, 0), (46, 0), (46, 254), (0, 254))),
        product=Flooring(boards=(Board(length=48.0, width=7.0, per_carton=10),)),
        rules=rules,
        effort_iterations=40,
    )


def test_rows_across_a_hall_are_said_with_its_width() -> None:
    request = hall(0)
    (sentence,) = hall_sentences(request, plan_floor(request))
    assert "across a hall 3' 10\" wide" in sentence.replace("\xa0", " ")
    assert "no source" in sentence


def test_rows_down_a_hall_are_not_spoken_of() -> None:
    request = hall(90)
    assert hall_sentences(request, plan_floor(request)) == []


def test_directions_that_were_compared_stand_side_by_side() -> None:
    request = hall(None)
    plan = plan_floor(request)
    across = replace(plan, direction_deg=0.0)
    other = replace(plan.directions[0], direction_deg=90.0, planks=40, cartons=4)
    *_, compared = hall_sentences(request, replace(across, directions=(other,)))
    assert compared.startswith("At 90°, down the hall: 40 planks, 4 cartons, ")
    assert f"{plan.totals.planks} planks" in compared


@pytest.mark.parametrize("width", [60, 72])
def test_five_feet_and_more_is_a_room(width: float) -> None:
    zone = Zone(outline=((0, 0), (width, 0), (width, 254), (0, 254)))
    request = replace(hall(0), zone=zone)
    assert hall_sentences(request, plan_floor(request)) == []
