"""Several widths with shades of their own in one carton: planned, judged, counted again here."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from functools import cache
from itertools import product
from math import ceil
from typing import Any

import pytest

from layout.judge.check import check_plan
from layout.planner.plan_floor import plan_floor
from layout.values.leftovers import OnHand, Pile
from layout.values.material import Prefer
from layout.values.plan import Plan
from layout.values.request import PlanRequest, read_request
from tests import rooms
from tests.sweeps.piles.counted import LENGTH, MIX, ROOM, like_pairs, planks_of

SMALL = [[0.0, 0.0], [130.0, 0.0], [130.0, 90.5], [0.0, 90.5]]
MIXED = {"variants": "mixed", "shades": 4}


def boards(**product: Any) -> dict[str, Any]:
    """Return the three widths of a carton, with their shades unless the product says otherwise."""
    plain = [
        {"length": LENGTH, "width": width, "per_carton": sum(mix.values())}
        for width, mix in MIX.items()
    ]
    if product:
        return {"boards": plain, **product}
    return {"boards": [{**b, "variants": m} for b, m in zip(plain, MIX.values(), strict=True)]}


def piles(*counts: tuple[float, str | None, int]) -> OnHand:
    return OnHand(
        piles=tuple(Pile(length=LENGTH, width=w, variant=v, planks=n) for w, v, n in counts)
    )


@cache
def gallery() -> tuple[PlanRequest, Plan]:
    request = read_request(rooms.request(ROOM, product=boards(), effort_iterations=100))
    return request, plan_floor(request)


@cache
def mixed(on_hand: OnHand | None = None) -> Plan:
    request = read_request(rooms.request(SMALL, product=boards(**MIXED), effort_iterations=40))
    request = replace(request, on_hand=on_hand)
    plan = plan_floor(request)
    assert check_plan(request, plan) == ()
    return plan


def test_three_widths_in_four_shades_stand_before_the_judge() -> None:
    assert check_plan(*gallery()) == ()


def test_shades_cost_neither_planks_nor_cartons() -> None:
    """As many as the same room takes of boards that all look alike, and proven."""
    totals = gallery()[1].totals
    assert (totals.planks, totals.lower_bound, totals.cartons) == (111, 111, 12)
    assert gallery()[1].status == "proven"


def test_the_cartons_hold_every_width_in_every_shade() -> None:
    cartons, used = gallery()[1].totals.cartons, planks_of(gallery()[1])
    assert all(n <= cartons * MIX[width].get(name, 0) for (width, name), n in used.items())


def test_like_pairs_are_few_and_warned_of_as_counted() -> None:
    """Some 300 pairs touch; each width has three or four shades."""
    warned = sum(w.value for w in gallery()[1].warnings if w.rule == "variants")
    assert warned == like_pairs(gallery()[1]) <= 6


def even_rows(across: int, cartons: int) -> set[tuple[int, ...]]:
    """Return the rows of every width that come to the inch, within cartons and the repeat rule."""
    held = [cartons * sum(mix.values()) for mix in MIX.values()]
    return {
        counts
        for counts in product(range(12), repeat=len(MIX))
        if sum(n * width for n, width in zip(counts, MIX, strict=True)) == across
        and all(ceil(n * 129.5 / LENGTH) <= most for n, most in zip(counts, held, strict=True))
        and all(n <= 2 * (sum(counts) - n + 1) for n in counts)
    }


@pytest.mark.parametrize("across", range(60, 92, 3))
def test_the_last_row_is_ripped_only_where_no_rows_come_out_even(across: int) -> None:
    """Of as few cartons as the plan takes."""
    high = across + 0.5
    outline: list[list[float]] = [[0, 0], [130, 0], [130, high], [0, high]]
    plan = plan_floor(read_request(rooms.request(outline, product=boards(), effort_iterations=30)))
    rows = {piece.row: piece.size[1] for piece in plan.pieces}
    ripped = sum(rows.values()) > across
    assert ripped == (not even_rows(across, plan.totals.cartons))


def test_a_mix_nobody_knows_is_spread_by_a_rule() -> None:
    plan = mixed()
    assert {piece.variant for piece in plan.pieces} == {None}
    assert plan.spread is not None
    assert (plan.spread.shades, plan.spread.rule) == (
        4,
        "no like plank within 2 rows and 1 plank",
    )


def test_piles_that_were_sorted_give_shades_to_a_mix_nobody_knew() -> None:
    counted = [(w, name, 5) for w in MIX for name in "ABCD"]
    plan = mixed(piles(*counted))
    assert plan.spread is None
    assert max(planks_of(plan).values()) <= 5
    assert None not in {piece.variant for piece in plan.pieces}


def test_what_is_missing_of_a_mix_nobody_knows_has_no_shade() -> None:
    plan = mixed(piles(*[(w, name, 2) for w in MIX for name in "ABCD"]))
    assert plan.totals.short_piles
    assert {pile.variant for pile in plan.totals.short_piles} == {None}
    used = planks_of(plan)
    assert all(used[w, name] == 2 for w in MIX for name in "ABCD" if used[w, ""])


def test_piles_counted_by_width_alone_leave_the_rule_to_follow() -> None:
    plan = mixed(piles((9.0, None, 20), (7.0, None, 20), (5.0, None, 20)))
    assert plan.spread is not None
    assert plan.totals.shortage_planks == 0


def test_planks_spent_on_looks_come_from_the_piles() -> None:
    """As few are missing as before, and no pile gives more than it has."""
    there = {(w, name): 14 for w, mix in MIX.items() for name in mix}
    request, _ = gallery()
    on_hand = piles(*((w, name, n) for (w, name), n in there.items()))
    plan = plan_floor(replace(request, on_hand=on_hand, prefer=Prefer.CARTONS))
    assert plan.bought is not None
    assert plan.bought.planks > 0
    assert all(n <= there[kind] for kind, n in planks_of(plan).items())
    assert plan.totals.shortage_planks == 0


def begun(rows: int, on_hand: OnHand) -> tuple[PlanRequest, Plan]:
    """Return the gallery with its first rows down, what they left, and piles counted then."""
    request, plan = gallery()
    laid = tuple(piece for piece in plan.pieces if piece.row <= rows)
    planks, done = {piece.plank for piece in laid}, {piece.id for piece in laid}
    left = [o for o in plan.offcuts if o.plank in planks and o.used_by not in {*done, None}]
    offcuts = tuple(replace(offcut, used_by=None) for offcut in left)
    request = replace(request, laid=laid, on_hand=replace(on_hand, offcuts=offcuts))
    return request, plan_floor(request)


@pytest.mark.parametrize("each", [4, 12])
def test_piles_counted_when_rows_lie_are_what_the_rest_is_made_of(each: int) -> None:
    there = Counter({(w, name): each for w, mix in MIX.items() for name in mix})
    request, plan = begun(8, piles(*((w, name, each) for w, name in there)))
    assert check_plan(request, plan) == ()
    begun_before = {p.plank for p in request.laid}
    new = {
        p.plank: (p.size[1], p.variant or "") for p in plan.pieces if p.plank not in begun_before
    }
    short = Counter(new.values()) - there
    assert sum(p.planks for p in plan.totals.short_piles) == short.total()
    assert (short.total() > 0) == (each == 4)


def test_a_plank_begun_keeps_a_shade_that_no_pile_has() -> None:
    request, plan = begun(8, piles((9.0, "A", 40), (7.0, "A", 40), (5.0, "B", 40)))
    assert check_plan(request, plan) == ()
