"""Balance is the weakest rule: it gives way before any other, and only then."""

from __future__ import annotations

from typing import Any

import pytest

from layout.judge.check import check_plan
from layout.planner.plan_floor import plan_floor
from layout.proof.certificate import check
from layout.values.plan import Plan
from layout.values.request import PlanRequest, read_request
from tests import rooms


def room(across: float, *, effort_iterations: int = 30, **rules: Any) -> PlanRequest:
    """Return a plain room so far across the rows, whose walls may stand off by 1/4 in."""
    form = rooms.request(
        [[0, 0], [161, 0], [161, across], [0, across]],
        rules={"wall_error": 0.25, **rules},
        effort_iterations=effort_iterations,
    )
    return read_request(form)


def judged(request: PlanRequest) -> Plan:
    plan = plan_floor(request)
    assert check_plan(request, plan) == ()
    return plan


@pytest.mark.parametrize("across", [70.4, 77.3, 63.35])
def test_balance_gives_way_where_a_full_last_row_leaves_a_wall_no_room(across: float) -> None:
    assert [warning.rule for warning in judged(room(across)).warnings] == ["balance"]


@pytest.mark.parametrize("across", [68.5, 66, 73])
def test_balance_holds_where_it_breaks_no_other_rule(across: float) -> None:
    assert judged(room(across)).warnings == ()


def test_the_first_plan_that_stands_lets_balance_go_already() -> None:
    plan = plan_floor(room(70.4, effort_iterations=1))
    assert [warning.rule for warning in plan.warnings] == ["balance"]


def test_the_strips_are_as_even_as_the_other_rules_leave_them() -> None:
    # 69.9 in across: 9 full rows leave 6.9 in, in equal parts.
    assert judged(room(70.4)).warnings[0].value == pytest.approx(3.45)


def test_the_bound_of_a_floor_that_lets_balance_go_speaks_of_all_first_rips() -> None:
    request = room(70.4, balance=False)
    plan = plan_floor(room(70.4))
    assert check(request, plan.direction_deg, plan.proof) == plan.totals.lower_bound


def test_a_floor_of_which_balance_is_not_asked_says_nothing_of_it() -> None:
    request = room(70.4, balance=False)
    assert judged(request).warnings == ()


def test_whole_rows_in_equal_strips_are_even_and_need_no_word() -> None:
    # Nothing remains across, and no tape tells that from a shaving that is shared with a board.
    plan = judged(room(70.5))
    assert plan.warnings == ()
    assert plan.totals.rips > 0
