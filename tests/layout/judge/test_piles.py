"""The judge on piles once counted: each falsehood about what is there or missing is found."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from layout.judge.check import check_plan
from layout.planner.plan_floor import plan_floor
from layout.values.advice import ShortPile, SpreadRule
from layout.values.plan import Plan
from layout.values.request import PlanRequest, read_request
from tests import rooms

BOARDS: list[dict[str, Any]] = [
    {"length": 48, "width": 9, "per_carton": 3, "variants": {"A": 1, "B": 2}},
    {"length": 48, "width": 7, "per_carton": 4, "variants": {"B": 2, "C": 2}},
]
PLAIN = [{key: board[key] for key in ("length", "width", "per_carton")} for board in BOARDS]
PLENTY = {(9, "A"): 4, (9, "B"): 4, (7, "B"): 9, (7, "C"): 9}
FEW = {(9, "A"): 4, (9, "B"): 2, (7, "B"): 4}


@cache
def planned(name: str) -> tuple[PlanRequest, Plan]:
    product: dict[str, Any] = {"boards": BOARDS}
    changes: dict[str, Any] = {}
    if name == "mixed":
        product = {"boards": PLAIN, "variants": "mixed"}
    if name in {"plenty", "few"}:
        piles = PLENTY if name == "plenty" else FEW
        counted = [
            {"length": 48, "width": width, "variant": variant, "planks": planks}
            for (width, variant), planks in piles.items()
        ]
        changes["on_hand"] = {"piles": counted}
    outline = [[0, 0], [110, 0], [110, 60], [0, 60]]
    request = read_request(rooms.request(outline, product=product, effort_iterations=20, **changes))
    plan = plan_floor(request)
    assert check_plan(request, plan) == ()
    return request, plan


def faults(name: str, plan: Plan) -> set[str]:
    return {f"{fault.rule}: {fault.where}" for fault in check_plan(planned(name)[0], plan)}


def shaded(plan: Plan, width: float, name: str | None) -> Plan:
    """Return the plan with all planks of a width in one shade."""
    pieces = (replace(p, variant=name) if p.size[1] == width else p for p in plan.pieces)
    return replace(plan, pieces=tuple(pieces))


def short(plan: Plan, *piles: ShortPile, **totals: Any) -> Plan:
    return replace(plan, totals=replace(plan.totals, short_piles=piles, **totals))


def test_more_of_a_shade_than_the_cartons_hold_in_that_width_is_caught() -> None:
    """The cartons hold as many of B as there are planks of 7 in, but not in that width."""
    _, plan = planned("named")
    assert "variants: variant B, width 7" in faults("named", shaded(plan, 7, "B"))


def test_a_shade_of_another_width_is_caught() -> None:
    _, plan = planned("named")
    wrong = faults("named", shaded(plan, 9, "C"))
    assert any(fault.startswith("variants: plank") for fault in wrong)


def test_planks_that_are_in_no_pile_must_be_told_missing() -> None:
    _, plan = planned("plenty")
    assert plan.totals.short_piles == ()
    used = Counter({p.plank: p.size[1] for p in plan.pieces}.values())
    assert used[9] > PLENTY[9, "A"]
    assert "totals: shortage.piles, width 9" in faults("plenty", shaded(plan, 9, "A"))


def test_a_pile_that_lacks_nothing_is_not_told_missing() -> None:
    _, plan = planned("plenty")
    false = short(plan, ShortPile(width=9, variant="A", planks=1))
    assert "totals: shortage.piles, width 9" in faults("plenty", false)


def test_a_missing_pile_left_out_is_caught() -> None:
    _, plan = planned("few")
    false = short(plan, *plan.totals.short_piles[1:])
    width = plan.totals.short_piles[0].width
    assert f"totals: shortage.piles, width {width:g}" in faults("few", false)


def test_a_missing_pile_of_no_width_of_the_product_is_caught() -> None:
    _, plan = planned("few")
    odd = ShortPile(width=4, variant="A", planks=1)
    assert "totals: shortage.piles, no width" in faults(
        "few", short(plan, *plan.totals.short_piles, odd)
    )


@pytest.mark.parametrize("off", [-1, 1])
def test_planks_and_cartons_short_are_counted(off: int) -> None:
    _, plan = planned("few")
    totals = plan.totals
    planks = short(plan, *totals.short_piles, shortage_planks=totals.shortage_planks + off)
    cartons = short(plan, *totals.short_piles, shortage_cartons=totals.shortage_cartons + off)
    assert "totals: shortage.planks" in faults("few", planks)
    assert "totals: shortage.cartons" in faults("few", cartons)


def test_planks_bought_though_others_lie_in_the_piles_are_caught() -> None:
    """All of 9 in are A, bought where the pile of B still lies there, and told so rightly."""
    request, plan = planned("few")
    false = shaded(plan, 9, "A")
    used = Counter({p.plank: (p.size[1], p.variant or "") for p in false.pieces}.values())
    lacks = used - Counter(FEW)
    piles = [ShortPile(width=w, variant=v, planks=n) for (w, v), n in sorted(lacks.items())]
    false = short(false, *piles, shortage_planks=lacks.total())
    texts = [str(fault) for fault in check_plan(request, false)]
    assert any("lie there unused" in text for text in texts)


def test_a_proof_for_fewer_cartons_than_are_to_be_bought_is_caught() -> None:
    _, plan = planned("few")
    assert plan.proof["cartons"] == plan.totals.shortage_cartons > 0
    proof = {**plan.proof, "cartons": plan.totals.shortage_cartons - 1}
    assert "proof: totals" in faults("few", replace(plan, proof=proof))


@pytest.mark.parametrize("spread", [None, SpreadRule(shades=5, rule="x")])
def test_a_rule_of_spreading_left_out_or_for_another_number_is_caught(
    spread: SpreadRule | None,
) -> None:
    _, plan = planned("mixed")
    assert "variants: spread" in faults("mixed", replace(plan, spread=spread))


def test_a_rule_of_spreading_where_shades_are_known_is_caught() -> None:
    _, plan = planned("named")
    spread = SpreadRule(shades=4, rule="x")
    assert "variants: spread" in faults("named", replace(plan, spread=spread))
