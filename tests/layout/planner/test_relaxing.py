"""What to give up for a floor without warnings."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from layout.judge.check import check_plan
from layout.planner.plan_floor import plan_floor
from layout.values.advice import Relaxation
from layout.values.material import rules_to_json
from layout.values.request import PlanRequest, read_request, request_to_json
from tests import rooms


def hall(width: float, across: float, **rules: Any) -> PlanRequest:
    """Return a plain room."""
    outline: list[list[float]] = [[0, 0], [width, 0], [width, across], [0, across]]
    return read_request(rooms.request(outline, rules=rules, effort_iterations=30))


def relaxed(request: PlanRequest) -> tuple[Relaxation, ...]:
    return plan_floor(request).relax


def with_limit(request: PlanRequest, relaxation: Relaxation) -> PlanRequest:
    """Return a request with one rule given up as told."""
    form = request_to_json(request)
    rules = {**rules_to_json(request.rules), relaxation.rule: relaxation.eased}
    return read_request({**form, "rules": rules})


def test_a_floor_without_warnings_has_nothing_to_give_up() -> None:
    assert relaxed(hall(161, 70)) == ()


def test_a_room_narrower_than_the_least_row_may_give_up_the_row_width() -> None:
    (one,) = relaxed(hall(100, 2.4))
    assert (one.rule, one.limit, one.clean) == ("min_row_width", 2, True)
    assert one.eased == pytest.approx(1.9, abs=1e-3)


def test_a_wall_that_may_stand_off_too_far_may_stand_off_less() -> None:
    # One row of 5.5 in: its board has an inch and a half to spare.
    (one,) = relaxed(hall(161, 6, wall_error=2))
    assert (one.rule, one.limit, one.eased) == ("wall_error", 2, 1.5)


def too_few_places() -> PlanRequest:
    """Return a room whose rows may be joined in their middle only."""
    return hall(60, 40, min_end_piece=24, min_joint_offset=20)


def test_where_joints_have_too_few_places_end_pieces_may_be_shorter() -> None:
    # Joints 20 in apart in a run of 59.5 in leave end pieces of 19.75 in.
    (one,) = relaxed(too_few_places())
    assert (one.rule, one.limit, one.clean) == ("min_end_piece", 24, True)
    assert one.eased == pytest.approx(19.75, abs=0.26)


@pytest.mark.parametrize("room", [hall(100, 2.4), too_few_places(), hall(161, 6, wall_error=2)])
def test_giving_up_what_is_told_leaves_the_same_plan_without_that_warning(
    room: PlanRequest,
) -> None:
    plan = plan_floor(room)
    (one,) = plan.relax
    faults = check_plan(with_limit(room, one), replace(plan, warnings=(), relax=()))
    assert one.rule not in {fault.rule for fault in faults}


def test_balance_is_given_up_whole() -> None:
    request = hall(161, 70.4, wall_error=0.25)
    assert relaxed(request) == (Relaxation(rule="balance", limit=1, eased=0, clean=True),)


def test_one_of_two_broken_rules_alone_makes_no_clean_floor() -> None:
    relax = relaxed(hall(60, 13, min_end_piece=24, min_joint_offset=20, wall_error=2))
    assert [one.rule for one in relax] == ["min_end_piece", "wall_error"]
    assert not any(one.clean for one in relax)
