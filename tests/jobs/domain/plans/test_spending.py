"""What the last carton leaves, and what a plan says that it bought."""

from __future__ import annotations

from dataclasses import replace

import pytest

from jobs.domain.plans.advice import (
    bought_sentence,
    relax_offers,
    short_words,
    spread_sentence,
)
from jobs.domain.plans.spending import Gain, buys_something, could_buy, gains, planks_left
from jobs.domain.plans.stored import PLAN, REQUEST, plan_from, request_from
from jobs.domain.plans.tables import proof_sentence
from layout.values.advice import Relaxation, ShortPile, Spent, SpreadRule
from layout.values.leftovers import OnHand
from layout.values.material import Prefer
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from tests.jobs.kept import kept


@pytest.fixture
def wanted() -> PlanRequest:
    """A request without spares."""
    return replace(request_from(REQUEST.read(kept("request-1")))[0], spares=0)


@pytest.fixture
def plan(wanted: PlanRequest) -> Plan:
    """A plan of 17 planks in cartons that hold 20, with three H-joints and a staircase."""
    plan = plan_from(PLAN.read(kept("plan-1")))[0]
    look = replace(plan.totals.look, h_joints=3, staircases=1)
    per = wanted.product.per_carton
    totals = replace(plan.totals, planks=2 * per - 3, fewest=2 * per - 3, cartons=2, look=look)
    return replace(plan, totals=totals)


def better(plan: Plan, planks: int = 2) -> Plan:
    """Return the plan once planks were spent on its looks."""
    totals = plan.totals
    look = replace(totals.look, h_joints=0, staircases=0)
    return replace(plan, totals=replace(totals, look=look, planks=totals.planks + planks))


def test_what_cartons_hold_beyond_the_plan_is_left(wanted: PlanRequest, plan: Plan) -> None:
    assert planks_left(wanted, plan) == 3


def test_spares_are_not_left(wanted: PlanRequest, plan: Plan) -> None:
    assert planks_left(replace(wanted, spares=2), plan) == 1


@pytest.mark.parametrize("change", [{"prefer": Prefer.CARTONS}, {"spend": 1}])
def test_what_is_spent_is_not_left(
    wanted: PlanRequest, plan: Plan, change: dict[str, object]
) -> None:
    assert planks_left(replace(wanted, **change), plan) == 0  # type: ignore[arg-type]


def test_nothing_is_left_of_planks_that_were_counted(wanted: PlanRequest, plan: Plan) -> None:
    assert planks_left(replace(wanted, on_hand=OnHand(planks=40)), plan) == 0


def test_looks_can_be_bettered(plan: Plan) -> None:
    assert could_buy(plan)


def test_a_plan_of_better_looks_in_as_many_cartons_is_bought(plan: Plan) -> None:
    assert buys_something(plan, better(plan))
    assert gains(plan, better(plan))[0] == Gain(label="H-joints", before=3, after=0)


def test_another_carton_is_never_bought(plan: Plan) -> None:
    after = better(plan)
    dearer = replace(after, totals=replace(after.totals, cartons=3))
    assert not buys_something(plan, dearer)


def test_planks_that_change_no_count_buy_nothing(plan: Plan) -> None:
    assert not buys_something(plan, plan)


def test_a_plan_says_what_it_bought(plan: Plan) -> None:
    bought = Spent(planks=2, h_joints=(3, 0), staircases=(1, 1), crosscuts=(9, 8))
    assert bought_sentence(replace(plan, bought=bought)) == (
        "2 planks paid for already: H-joints from 3 to 0, crosscuts from 9 to 8"
    )


def test_the_proof_speaks_of_the_most_sparing_plan(wanted: PlanRequest, plan: Plan) -> None:
    spent = replace(better(plan), status="proven")
    said = proof_sentence(wanted, spent)
    assert (
        f"2 of them spent on looks and fewer cuts; no plan in this direction takes fewer than "
        f"{plan.totals.planks}." in said
    )


def test_piles_that_are_short_are_named_by_width_and_shade(plan: Plan) -> None:
    piles = (ShortPile(width=plan.pieces[0].size[1], variant="B", planks=2),)
    said = short_words(replace(plan, totals=replace(plan.totals, short_piles=piles)))
    assert said.startswith("2 planks of B, ")


def test_what_could_give_way_is_said_with_both_limits(plan: Plan) -> None:
    relax = (Relaxation(rule="min_joint_offset", limit=200.0, eased=150.0, clean=True),)
    (offer,) = relax_offers(replace(plan, relax=relax, unit="mm"))
    assert (offer.field, offer.typed) == ("min_offset_mm", "150 mm")
    assert offer.sentence == "Minimum stagger 150\xa0mm instead of 200\xa0mm: no rule is broken."


def test_shades_of_an_unknown_mix_are_spread_by_eye(plan: Plan) -> None:
    spread = SpreadRule(shades=4, rule="no like plank end to end")
    said = spread_sentence(replace(plan, spread=spread))
    assert said == "4 shades, spread by eye: no like plank end to end"
