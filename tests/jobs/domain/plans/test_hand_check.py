"""The check by hand, against sums worked on paper here; what walls off their place do to a plan."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from jobs.domain.plans.hand_check import (
    across,
    along,
    drift_sentence,
    drifts_of,
    first_and_last,
    hand_check,
)
from layout.planner.plan_floor import plan_floor
from layout.values.plan import Plan
from layout.values.request import PlanRequest, read_request


def requested(width: float = 150.5, **rules: Any) -> PlanRequest:
    """Return a room of 183 1/2 in by ``width`` for boards of 48 by 7 in."""
    given = {"expansion_gap": 0.25, "saw_kerf": 0.125, "min_end_piece": 8}
    given |= {"min_joint_offset": 8, "min_row_width": 2}
    return read_request(
        {
            "format": 1,
            "unit": "in",
            "zone": {"outline": [[0, 0], [183.5, 0], [183.5, width], [0, width]]},
            "product": {"length": 48, "width": 7, "per_carton": 10},
            "rules": given | rules,
            "effort_iterations": 50,
        }
    )


@pytest.fixture(scope="module")
def request_() -> PlanRequest:
    """The room."""
    return requested()


@pytest.fixture(scope="module")
def plan(request_: PlanRequest) -> Plan:
    """A plan of it."""
    return plan_floor(request_, stop=lambda: False)


def test_a_row_is_divided_by_the_board(request_: PlanRequest, plan: Plan) -> None:
    # 183 1/2 less twice 1/4 is 183; 3 boards of 48 are 144, 39 are left.
    row = along(request_, plan)
    assert (row.laid, row.whole, row.rest, row.begun) == (183, 3, 39, 4)


def test_less_than_half_a_board_is_shared(request_: PlanRequest, plan: Plan) -> None:
    # 150 1/2 less 1/2 is 150; 21 rows of 7 are 147, 3 are left: 3 and 7 shared are 5 and 5.
    assert first_and_last(across(request_, plan)) == (5, 5)


def test_half_a_board_or_more_leaves_the_first_row_whole(plan: Plan) -> None:
    # 152 less 1/2 is 151 1/2; 21 rows are 147, 4 1/2 are left.
    assert first_and_last(across(requested(152), plan)) == (7, 4.5)


def test_nothing_left_leaves_both_rows_whole(plan: Plan) -> None:
    assert first_and_last(across(requested(147.5), plan)) == (7, 7)


def test_the_sums_are_told_both_ways(request_: PlanRequest, plan: Plan) -> None:
    lines = [line.result.replace("\xa0", " ") for line in hand_check(request_, plan)]
    # The area, 183.5 x 150.5 over 336, is 82.2; 22 rows of 4 are 88.
    assert lines == ["3 boards and 3' 3\"", '21 rows and 3"', '5" and 5"', "between 83 and 88"]


def test_a_plank_off_the_tape_is_divided_by_as_its_maker_says_it(plan: Plan) -> None:
    request = requested()
    board = replace(request.product.board, width=7.05)
    product = replace(request.product, boards=(board,))
    across_rows = hand_check(replace(request, product=product), plan)[1]
    assert across_rows.working.endswith("over 7.05\xa0in")


def test_the_plan_lies_between_the_hands_bounds(request_: PlanRequest, plan: Plan) -> None:
    assert 82 <= plan.totals.planks <= 88


def test_every_piece_measured_on_site_says_what_it_allows(plan: Plan) -> None:
    measured = [c for p in plan.pieces for c in p.cuts if c.final == "measure on site"]
    assert len(drifts_of(plan)) == len(measured) > 0


def test_a_plan_for_walls_that_stand_off_survives_that_much() -> None:
    request = requested(wall_error=0.5)
    plan = plan_floor(request, stop=lambda: False)
    assert min(min(d.shorter, d.longer) for d in drifts_of(plan)) >= 0.5 - 1e-6
    assert 'Planned for walls that stand off by up to ½".' in drift_sentence(request, plan)


def test_a_piece_without_room_is_named(request_: PlanRequest, plan: Plan) -> None:
    first = next(p for p in plan.pieces if any(c.limits for c in p.cuts))
    tight = tuple(replace(cut, limits=(cut.at, cut.at)) for cut in first.cuts)
    lines = drift_sentence(request_, replace(plan, pieces=(replace(first, cuts=tight),)))
    assert lines.startswith(f"Piece {first.id} allows the wall at its end nothing")
