"""Three seeded counts of piles in the suite; more of them: ``python -m tests.sweeps.piles``."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from layout.planner.plan_floor import plan_floor
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from tests.sweeps.piles.counted import drawn, faults, fewest_cartons, request_of

SEEDS = (3, 5, 7)


@cache
def planned(seed: int) -> tuple[PlanRequest, Plan]:
    request = request_of(drawn(seed), iterations=60)
    return request, plan_floor(request)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_plan_is_made_of_what_is_there(seed: int) -> None:
    assert faults(*planned(seed), drawn(seed)) == []


@pytest.mark.parametrize("seed", SEEDS)
def test_no_more_cartons_are_bought_than_rows_of_these_widths_ask_for(seed: int) -> None:
    assert planned(seed)[1].totals.shortage_cartons == fewest_cartons(drawn(seed))


def test_the_seeds_have_piles_that_do_and_piles_that_do_not() -> None:
    short = [planned(seed)[1].totals.shortage_planks > 0 for seed in SEEDS]
    assert set(short) == {True, False}


def test_a_shortage_told_wrong_is_seen() -> None:
    seed = next(seed for seed in SEEDS if planned(seed)[1].totals.short_piles)
    request, plan = planned(seed)
    false = replace(plan, totals=replace(plan.totals, short_piles=plan.totals.short_piles[1:]))
    assert any(line.startswith("short of") for line in faults(request, false, drawn(seed)))
