"""Orders too large to look at all ways of cutting, and trim that is told to stop."""

from __future__ import annotations

from collections import Counter
from random import Random
from typing import Any

import pytest

from layout.trim.form import CutList, read_trim
from layout.trim.plan_cuts import plan_cuts
from layout.values.errors import InputError
from tests.bench.promise import STOCK

KERF = 0.125
LENGTHS = {name: float(length) for name, length, _ in STOCK}


def order(count: int, kinds: int, longest: float = 190, *, seed: int = 3) -> dict[str, Any]:
    """Return a trim request of so many pieces of so many lengths, to the 1/16 in."""
    chance = Random(seed)
    lengths = [round(chance.uniform(4, longest) * 16) / 16 for _ in range(kinds)]
    pieces = [{"id": f"p{k}", "length": lengths[k % kinds]} for k in range(count)]
    stock = [{"id": name, "length": length, "price": price} for name, length, price in STOCK]
    return {"format": 2, "saw_kerf": KERF, "stock": stock, "pieces": pieces, "min_joint_piece": 16}


def faults(form: dict[str, Any], cuts: CutList) -> list[str]:
    """Return the pieces not cut as long as they are, and the sticks that are overfull."""
    wanted = {piece["id"]: piece["length"] for piece in form["pieces"]}
    cut: Counter[str] = Counter()
    wrong = []
    for stick in cuts.sticks:
        for one in stick.cuts:
            cut[one.id] += round(one.length * 1000)
        used = sum(one.length for one in stick.cuts) + KERF * (len(stick.cuts) - 1)
        if used > LENGTHS[stick.stock] + 0.0001:
            wrong.append(f"{stick.stock}: {used}")
    wrong += [name for name, length in wanted.items() if abs(cut[name] - length * 1000) > 2]
    return wrong


def test_twenty_thousand_pieces_of_many_lengths_are_cut_and_bounded() -> None:
    form = order(20_000, 600)
    cuts = plan_cuts(read_trim(form), looks=6)
    assert not faults(form, cuts)
    assert cuts.lower_bound_cost <= cuts.cost <= cuts.lower_bound_cost * 102 / 100


def test_walls_longer_than_a_stick_are_joined_in_a_large_order_too() -> None:
    form = order(700, 300, 260)
    cuts = plan_cuts(read_trim(form))
    assert not faults(form, cuts)
    joined = [one for stick in cuts.sticks for one in stick.cuts if one.parts > 1]
    assert joined
    assert all(one.length >= 16 for one in joined)


@pytest.mark.parametrize(("count", "kinds"), [(1, 1), (60, 40), (2_000, 200), (20_000, 30)])
def test_stopped_at_once_every_piece_is_cut_all_the_same(count: int, kinds: int) -> None:
    form = order(count, kinds)
    cuts = plan_cuts(read_trim(form), stop=lambda: True, left=lambda: 0.0)
    assert not faults(form, cuts)
    assert cuts.lower_bound_cost <= cuts.cost


def test_looks_end_the_work_the_same_way_every_time() -> None:
    request = read_trim(order(120, 90))
    assert plan_cuts(request, looks=2) == plan_cuts(request, looks=2)


def test_one_piece_more_than_twenty_thousand_is_refused() -> None:
    with pytest.raises(InputError, match="20000"):
        read_trim(order(20_001, 5))


@pytest.mark.parametrize("effort", [-1, 3_601])
def test_an_effort_out_of_range_is_refused(effort: float) -> None:
    with pytest.raises(InputError, match="effort_s"):
        read_trim({**order(1, 1), "effort_s": effort})
