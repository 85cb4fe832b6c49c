"""Planks that are paid for already: spent on looks, then on fewer cuts, and on nothing else."""

from __future__ import annotations

from dataclasses import replace
from hashlib import sha256
from typing import Any

import pytest

from layout.judge.check import check_plan
from layout.planner.plan_floor import plan_floor
from layout.planner.spending import with_spent
from layout.values.errors import InputError
from layout.values.leftovers import OnHand, Pile
from layout.values.material import Prefer
from layout.values.plan import Plan
from layout.values.plan_form import plan_text
from layout.values.request import PlanRequest, read_request
from tests import rooms
from tests.bench.rooms import bench_rooms
from tests.bench.spend import BeforeAfter, floors

THREE_WIDTHS = [
    {"length": 48, "width": 9, "per_carton": 3},
    {"length": 48, "width": 7, "per_carton": 4},
    {"length": 48, "width": 5, "per_carton": 3},
]


def bay() -> PlanRequest:
    """Return a room of six H-joints at the fewest planks, two left in the last carton."""
    return replace(read_request(bench_rooms()["bay 4"]), effort_iterations=300)


def proven_ell() -> PlanRequest:
    """Return a floor whose bound is met, seven planks left in the last carton."""
    return read_request(bench_rooms()["ell 8"])


def plain(**changes: Any) -> PlanRequest:
    return read_request(
        rooms.request([[0, 0], [131, 0], [131, 90], [0, 90]], effort_iterations=40, **changes)
    )


def cartons_of(request: PlanRequest) -> PlanRequest:
    return replace(request, prefer=Prefer.CARTONS)


def judged(request: PlanRequest) -> Plan:
    plan = plan_floor(request)
    assert check_plan(request, plan) == ()
    return plan


def left(request: PlanRequest) -> int:
    """Return what the last carton of the most sparing plan leaves."""
    totals = plan_floor(request).totals
    return totals.cartons * request.product.per_carton - totals.planks - request.spares


@pytest.fixture(scope="module")
def three() -> list[BeforeAfter]:
    """Three floors of the bench before and after."""
    return list(floors(3, seed=4, iterations=120))


def test_no_h_joint_and_no_staircase_is_left(three: list[BeforeAfter]) -> None:
    looks = [floor.after.totals.look for floor in three]
    assert [(look.h_joints, look.staircases) for look in looks] == [(0, 0)] * 3


def test_the_floors_had_some_before(three: list[BeforeAfter]) -> None:
    assert sum(floor.before.totals.look.h_joints for floor in three) > 0


def test_cartons_never_rise(three: list[BeforeAfter]) -> None:
    for floor in three:
        assert floor.after.totals.cartons == floor.before.totals.cartons


def test_fewest_bound_and_proof_are_those_of_the_most_sparing_plan(
    three: list[BeforeAfter],
) -> None:
    for floor in three:
        before, after = floor.before, floor.after
        assert after.totals.fewest == before.totals.planks
        assert (after.totals.lower_bound, after.proof) == (before.totals.lower_bound, before.proof)


def test_cuts_do_not_rise(three: list[BeforeAfter]) -> None:
    for floor in three:
        one, two = floor.before.totals, floor.after.totals
        assert two.crosscuts + two.rips <= one.crosscuts + one.rips


def test_the_judge_finds_nothing_wrong_with_planks_spent(three: list[BeforeAfter]) -> None:
    assert [floor.faults for floor in three] == [0, 0, 0]


def test_the_plan_tells_what_was_bought() -> None:
    before, plan = plan_floor(bay()), plan_floor(cartons_of(bay()))
    assert plan.bought is not None
    assert plan.bought.planks == plan.totals.planks - before.totals.planks
    assert plan.bought.h_joints == (before.totals.look.h_joints, plan.totals.look.h_joints)
    assert plan.bought.crosscuts == (before.totals.crosscuts, plan.totals.crosscuts)


def test_the_digest_is_that_of_the_most_sparing_plan() -> None:
    digest = sha256(plan_text(plan_floor(bay())).encode()).hexdigest()
    assert plan_floor(cartons_of(bay())).totals.fewest_plan == digest


def test_proven_is_a_plan_whose_fewest_planks_meet_the_bound() -> None:
    plan = plan_floor(cartons_of(replace(proven_ell(), effort_iterations=300)))
    assert plan.totals.planks > plan.totals.fewest == plan.totals.lower_bound
    assert plan.status == "proven"


def test_without_a_preference_nothing_is_spent_and_nothing_said_of_it() -> None:
    plan = plan_floor(plain())
    assert (plan.totals.fewest, plan.totals.fewest_plan) == (plan.totals.planks, None)
    assert plan.bought is None


def test_no_more_is_spent_than_the_request_lets_go() -> None:
    plan = judged(replace(bay(), spend=1))
    assert plan.totals.planks <= plan.totals.fewest + 1


def test_nothing_to_spend_still_takes_what_looks_cost_nothing() -> None:
    plan = judged(replace(bay(), spend=0))
    assert plan.totals.planks == plan.totals.fewest


def test_more_than_the_last_carton_leaves_is_refused() -> None:
    request = plain()
    most = left(request)
    with pytest.raises(InputError, match=rf"prefer\.spend: {most + 1} .*accepted: 0 to {most}"):
        plan_floor(replace(request, spend=most + 1))


def test_spares_are_bought_and_not_left_to_spend() -> None:
    most = left(plain())
    with pytest.raises(InputError, match=f"accepted: 0 to {most - 1}"):
        plan_floor(replace(plain(spares=1), spend=most))


def test_planks_on_hand_are_paid_for_whatever_the_cartons_hold() -> None:
    request = plain()
    most = left(request)
    planks = plan_floor(request).totals.planks + most + 5
    plan_floor(replace(request, spend=most + 5, on_hand=OnHand(planks=planks)))


def test_piles_that_are_counted_are_paid_for() -> None:
    piles = (Pile(length=48, width=7, variant=None, planks=60),)
    with pytest.raises(InputError, match="which 60 planks paid for leave"):
        plan_floor(replace(plain(), spend=40, on_hand=OnHand(piles=piles)))


def test_several_widths_spend_within_what_the_cartons_hold_of_each() -> None:
    request = plain(product={"boards": THREE_WIDTHS})
    sparing, plan = plan_floor(request), judged(cartons_of(request))
    assert plan.totals.cartons == sparing.totals.cartons
    looks = plan.totals.look
    before = sparing.totals.look
    assert looks.h_joints + looks.staircases <= before.h_joints + before.staircases


def test_fixed_steps_leave_nothing_to_buy() -> None:
    plan = judged(cartons_of(plain(rules={"stagger": "third"})))
    assert plan.bought is not None
    assert plan.bought.planks == 0


def test_the_same_request_spends_the_same() -> None:
    request = cartons_of(bay())
    assert plan_text(plan_floor(request)) == plan_text(plan_floor(request))


def test_a_plan_of_fewer_planks_that_looks_came_upon_is_the_most_sparing_one() -> None:
    plan = plan_floor(plain())
    totals = replace(plan.totals, planks=plan.totals.planks + 1, fewest=plan.totals.planks + 1)
    spent = with_spent(plan, replace(plan, totals=totals))
    assert spent.totals.fewest == spent.totals.planks
    assert spent.bought is not None
    assert spent.bought.planks == 0
