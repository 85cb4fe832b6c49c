"""Floors turned by an odd angle: what the judge finds bare is bare, and no rounding of a union."""

from __future__ import annotations

from dataclasses import replace

import pytest

from layout.judge.check import check_plan
from layout.planner.plan_floor import plan_floor
from layout.values.plan_form import plan_to_json, read_plan
from layout.values.request import PlanRequest, read_request
from tests.rooms import request

# A union of all pieces of this very plan loses one whole board, as the geometry library stands.
OUTLINE = [
    [0.0, 0.0],
    [5464.878575066766, 0.0],
    [5464.878575066766, 3120.910405773449],
    [0.0, 3120.910405773449],
]


def turned() -> PlanRequest:
    """Return a metric room whose boards lie at 62.5 degrees."""
    rules = {"expansion_gap": 6.35, "saw_kerf": 3.175, "min_end_piece": 203.2}
    rules |= {"min_joint_offset": 203.2, "min_row_width": 50.8, "wall_error": 6.35}
    return read_request(
        {
            "format": 1,
            "unit": "mm",
            "zone": {"outline": OUTLINE},
            "product": {"length": 1524.0, "width": 165.1, "per_carton": 12},
            "rules": {**rules, "direction_deg": 62.5},
            "lay": {"start": "low", "first_end": "left"},
            "effort_iterations": 12,
            "seed": 71,
        }
    )


def test_a_board_that_lies_there_is_not_called_missing() -> None:
    request = turned()
    assert check_plan(request, plan_floor(request)) == ()


def test_a_board_that_is_taken_away_is_missed() -> None:
    request = turned()
    plan = plan_floor(request)
    kept = tuple(piece for piece in plan.pieces if piece.id != "30-2")
    rules = {fault.rule for fault in check_plan(request, replace(plan, pieces=kept))}
    assert "missing" in rules


@pytest.mark.parametrize(
    ("size", "direction", "seed"),
    [
        ((150, 120), 45, 0),
        ((60, 49), 30, 0),  # a piece with a pointed end: two corners with the same figure
        ((60, 49), 30, 1),  # a piece with an edge that is hardly there: no cut makes it
    ],
)
def test_cuts_of_a_plan_as_it_is_stored_are_where_its_outlines_show_them(
    size: tuple[float, float], direction: float, seed: int
) -> None:
    across, up = size
    outline: list[list[float]] = [[0, 0], [across, 0], [across, up], [0, up]]
    rules = {"direction_deg": direction, "saw_kerf": 0}
    form = request(outline, rules=rules, effort_iterations=20, seed=seed, format=2)
    floor = read_request(form)
    assert check_plan(floor, read_plan(plan_to_json(plan_floor(floor)))) == ()
