"""Trim from stock lengths: what a cut list must keep, and what is refused."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal
from itertools import product
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from layout.trim.form import CutList, cut_list_to_json, read_trim
from layout.trim.plan_cuts import plan_cuts
from layout.values.errors import InputError

STOCK = [
    {"id": "8 ft", "length": 96, "price": "6.40"},
    {"id": "12 ft", "length": 144, "price": "9.20"},
    {"id": "16 ft", "length": 192, "price": "12.10"},
]


def _form(pieces: list[dict[str, Any]], **more: Any) -> dict[str, Any]:
    return {"format": 1, "saw_kerf": 0.125, "stock": STOCK, "pieces": pieces, **more}


def _cut(pieces: list[dict[str, Any]], **more: Any) -> CutList:
    return plan_cuts(read_trim(_form(pieces, **more)))


def _lengths(cuts: CutList) -> Counter[tuple[str, float]]:
    return Counter((c.id, c.length) for stick in cuts.sticks for c in stick.cuts)


def _overfull(cuts: CutList, kerf: float) -> list[str]:
    """Return the sticks whose pieces, kerfs and left-over don't add up to the stock."""
    lengths = {str(s["id"]): float(str(s["length"])) for s in STOCK}
    wrong = []
    for stick in cuts.sticks:
        used = sum(c.length for c in stick.cuts) + kerf * (len(stick.cuts) - 1)
        spare = lengths[stick.stock] - used
        if spare < -1e-9 or abs(max(spare - kerf, 0) - stick.left_over) > 1e-9:
            wrong.append(stick.stock)
    return wrong


BEDROOM = [
    {"id": "north", "length": 167.25},
    {"id": "east", "length": 139.5},
    {"id": "south-left", "length": 71},
    {"id": "south-right", "length": 64.25},
    {"id": "west", "length": 139.5},
    {"id": "closet", "length": 24.5, "count": 2},
]


def test_a_bedroom_is_cut_at_least_cost_and_proven() -> None:
    cuts = _cut(BEDROOM)
    assert (cuts.status, cuts.cost) == ("proven", Decimal("42.60"))
    assert not _overfull(cuts, 0.125)


def test_every_piece_is_cut_once() -> None:
    assert sum(_lengths(_cut(BEDROOM)).values()) == 7


def test_a_stick_filled_exactly_needs_no_last_cut() -> None:
    cuts = _cut([{"id": "a", "length": 47.9375, "count": 2}])
    assert [stick.stock for stick in cuts.sticks] == ["8 ft"]
    assert cuts.sticks[0].left_over == 0.0


def test_the_kerf_between_two_halves_costs_a_second_stick() -> None:
    cuts = _cut([{"id": "a", "length": 96, "count": 2}])
    assert [stick.stock for stick in cuts.sticks] == ["8 ft", "8 ft"]


def test_the_last_cut_takes_its_kerf_from_the_left_over() -> None:
    assert _cut([{"id": "a", "length": 131.5}]).sticks[0].left_over == 12.375


def test_ends_add_their_allowance() -> None:
    piece = {"id": "a", "length": 100, "ends": ["outside", "outside"]}
    cuts = _cut([piece], end_allowance={"outside": 0.625})
    assert _lengths(cuts) == {("a", 101.25): 1}


def test_of_equal_cost_the_fewest_sticks() -> None:
    stock = [
        {"id": "short", "length": 50, "price": "5"},
        {"id": "long", "length": 101, "price": "10"},
    ]
    cuts = _cut([{"id": "a", "length": 50, "count": 2}], stock=stock)
    assert [stick.stock for stick in cuts.sticks] == ["long"]


def test_of_equal_sticks_the_longest_single_left_over() -> None:
    stock = [{"id": "only", "length": 100, "price": "1"}]
    pieces = [{"id": "a", "length": 50}, {"id": "b", "length": 30}, {"id": "c", "length": 20}]
    cuts = _cut([*pieces, {"id": "d", "length": 25}], stock=stock, saw_kerf=0)
    assert max(stick.left_over for stick in cuts.sticks) == 75


def test_a_long_wall_is_joined_from_the_fewest_parts() -> None:
    cuts = _cut([{"id": "hall", "length": 250}], min_joint_piece=24)
    parts = [c for stick in cuts.sticks for c in stick.cuts]
    assert sum(c.length for c in parts) == 250
    assert [(c.part, c.parts) for c in parts] == [(1, 2), (2, 2)]
    assert min(c.length for c in parts) >= 24


def test_the_joint_falls_where_it_saves_a_stick() -> None:
    cuts = _cut(
        [{"id": "hall", "length": 250}, {"id": "a", "length": 90, "count": 3}],
        stock=[{"id": "16 ft", "length": 192, "price": "12"}],
        min_joint_piece=24,
    )
    assert (cuts.status, cuts.cost) == ("proven", Decimal("36.00"))
    assert not _overfull(cuts, 0.125)


def test_a_wall_may_go_up_in_one_piece_only_to_a_length() -> None:
    cuts = _cut([{"id": "a", "length": 150}], longest_without_joint=144, min_joint_piece=24)
    assert all(c.length <= 144 for stick in cuts.sticks for c in stick.cuts)
    assert sum(c.length for stick in cuts.sticks for c in stick.cuts) == 150


def _cheapest_by_trying(wall: int, pieces: list[int], prices: dict[int, int], least: int) -> int:
    """Return the least cost over every whole joint and every share of the pieces among sticks."""
    best = 10**9
    for part in range(max(least, wall - max(prices)), min(max(prices), wall - least) + 1):
        items = [part, wall - part, *pieces]
        for places in product(range(len(items)), repeat=len(items)):
            loads = [sum(i for i, p in zip(items, places, strict=True) if p == k) for k in places]
            if max(loads) <= max(prices):
                load = dict(zip(places, loads, strict=True))
                cost = sum(min(p for s, p in prices.items() if s >= v) for v in load.values())
                best = min(best, cost)
    return best


@settings(deadline=None, max_examples=12)
@given(st.integers(13, 19), st.lists(st.integers(2, 9), min_size=1, max_size=2))
def test_joined_walls_agree_with_trying_every_joint(wall: int, pieces: list[int]) -> None:
    prices = {8: 5, 12: 7}
    stock = [{"id": str(s), "length": s, "price": p} for s, p in prices.items()]
    forms = [{"id": f"p{i}", "length": p} for i, p in enumerate(pieces)]
    cuts = _cut([{"id": "w", "length": wall}, *forms], stock=stock, saw_kerf=0, min_joint_piece=3)
    assert cuts.status == "proven"
    assert cuts.cost == _cheapest_by_trying(wall, pieces, prices, 3)


def test_many_different_pieces_with_long_walls_still_end_in_a_cut_list() -> None:
    pieces = [{"id": f"p{i}", "length": 14.5 + 1.375 * i} for i in range(40)]
    pieces += [{"id": "w", "length": 400}]
    cuts = _cut(pieces, min_joint_piece=24)
    assert sum(_lengths(cuts).values()) == 40 + 3
    assert cuts.lower_bound_cost <= cuts.cost


def test_a_stop_brings_the_best_so_far_with_its_bound() -> None:
    pieces = [{"id": f"p{i}", "length": 14.5 + 1.375 * i} for i in range(40)]
    cuts = plan_cuts(read_trim(_form(pieces)), stop=lambda: True)
    assert sum(_lengths(cuts).values()) == 40
    assert cuts.lower_bound_cost <= cuts.cost


def test_the_json_form_has_the_published_shape() -> None:
    form = cut_list_to_json(_cut([{"id": "bed-1", "length": 131.5}]))
    assert form == {
        "format": 2,
        "status": "proven",
        "sticks": [
            {
                "stock": "12 ft",
                "cuts": [{"id": "bed-1", "length": 131.5}],
                "left_over": 12.375,
            }
        ],
        "totals": {"sticks": 1, "cost": "9.20", "lower_bound_cost": "9.20"},
    }


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"format": 3}, "format"),
        ({"stock": []}, "stock"),
        ({"stock": [{"id": "a", "length": 96}]}, "stock[0].price"),
        ({"stock": [{"id": "a", "length": 96, "price": "free"}]}, "stock[0].price"),
        ({"stock": [{"id": "a", "length": 96, "price": "0"}]}, "stock[0].price"),
        ({"stock": [{"id": "a", "length": -1, "price": "1"}]}, "stock[0].length"),
        ({"pieces": []}, "pieces"),
        ({"pieces": [{"id": "a", "length": 0}]}, "pieces[0].length"),
        ({"pieces": [{"id": "a", "length": 9, "count": 0}]}, "pieces[0].count"),
        ({"pieces": [{"id": "a", "length": 9, "ends": ["round"]}]}, "pieces[0].ends"),
        ({"pieces": [{"id": "a", "length": 9}, {"id": "a", "length": 8}]}, "pieces[1].id"),
        ({"pieces": [{"id": "a", "length": 200}]}, "min_joint_piece"),
        ({"pieces": [{"id": "a", "length": 200}], "min_joint_piece": 101}, "pieces[0].length"),
        ({"saw_kerf": -1}, "saw_kerf"),
        ({"end_allowance": {"round": 1}}, "end_allowance.round"),
        ({"min_joint_peice": 24}, "min_joint_peice"),
    ],
)
def test_what_cannot_be_cut_is_refused_by_its_field(change: dict[str, Any], field: str) -> None:
    with pytest.raises(InputError) as refused:
        plan_cuts(read_trim({**_form([{"id": "a", "length": 20}]), **change}))
    assert refused.value.field == field
