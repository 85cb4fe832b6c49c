"""Directions compared within a time: the first one leaves some for the others."""

from __future__ import annotations

from typing import Any

from layout.planner.plan_floor import plan_floor
from layout.values.plan import Plan
from layout.values.request import read_request


def planned(asks: int, **rules: Any) -> Plan:
    """Return a plan of a room of 184 by 131 in, stopped after it was asked so many times."""
    given: dict[str, Any] = {"expansion_gap": 0.25, "saw_kerf": 0.125, "min_end_piece": 8}
    given |= {"min_joint_offset": 8, "min_row_width": 2, "direction_deg": "best"}
    outline = [[0, 0], [184, 0], [184, 131], [100, 131], [100, 101], [0, 101]]
    form = {"format": 1, "unit": "in", "zone": {"outline": outline}, "rules": given | rules}
    form["product"] = {"length": 48, "width": 7, "per_carton": 10}
    left = iter(range(asks))
    return plan_floor(read_request(form), stop=lambda: next(left, None) is None)


def test_both_directions_are_planned_before_time_is_up() -> None:
    plan = planned(asks=400)
    assert {plan.direction_deg, *(one.direction_deg for one in plan.directions)} == {0, 90}


def test_the_direction_that_is_kept_takes_no_more_planks() -> None:
    plan = planned(asks=400)
    assert all(plan.totals.planks <= other.planks for other in plan.directions)


def test_a_direction_that_is_given_is_the_only_one() -> None:
    assert planned(asks=400, direction_deg=90).directions == ()
