"""Pieces and planks: what fits on one plank, the largest matching, leftovers and the rack."""

from __future__ import annotations

from itertools import permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from layout.planks.assign import assign
from layout.planks.matching import matched, sooner, threshold_mates
from layout.planks.parts import Part, Plank, Stock, clear
from layout.planks.rack import rack_of, within_rack

STOCK = Stock(length=48, width=7, kerf=0.125)


def starter(order: int, length: float) -> Part:
    return Part(order=order, left=48 - length, right=48, low=0, high=7)


def ender(order: int, length: float, slack: float = 0) -> Part:
    return Part(order=order, left=0, right=length, low=0, high=7, slack=slack)


def floating(order: int, length: float) -> Part:
    return Part(order=order, left=0, right=length, low=0, high=7, floats=True)


def test_a_starter_comes_from_the_leftover_of_an_ender() -> None:
    assert len(assign([ender(0, 20), starter(1, 27)], STOCK)) == 1


def test_the_saw_takes_its_kerf_between_them() -> None:
    assert len(assign([ender(0, 20), starter(1, 28)], STOCK)) == 2


def test_two_starters_never_share_a_plank() -> None:
    assert len(assign([starter(0, 10), starter(1, 10)], STOCK)) == 2


def test_a_wall_that_stands_off_takes_its_slack_from_the_leftover() -> None:
    assert clear(ender(0, 20, slack=0.5), starter(1, 27), 0.125)
    assert not clear(ender(0, 20, slack=1), starter(1, 27), 0.125)


def test_a_piece_that_needs_no_factory_end_goes_into_the_middle() -> None:
    planks = assign([ender(0, 15), starter(1, 15), floating(2, 17)], STOCK)
    assert [part.left for part in planks[0]] == pytest.approx([0, 33, 15.125])


def test_strips_with_different_sides_share_a_plank() -> None:
    low = Part(order=0, left=0, right=48, low=0, high=3)
    high = Part(order=1, left=0, right=48, low=4, high=7)
    assert len(assign([low, high], STOCK)) == 1


def test_strips_that_keep_the_same_side_do_not() -> None:
    strips = [Part(order=i, left=0, right=48, low=0, high=3) for i in range(2)]
    assert len(assign(strips, STOCK)) == 2


def test_angled_ends_that_nest_share_a_plank() -> None:
    # Both ends lean the same way: 24 and 31 long at most, 48 - 0.5 together at every height.
    last = Polygon([(0, 0), (24, 0), (17, 7), (0, 7)])
    first = Polygon([(24.5, 0), (48, 0), (48, 7), (17.5, 7)])
    parts = [
        Part(order=0, left=0, right=24, low=0, high=7, shape=last),
        Part(order=1, left=17.5, right=48, low=0, high=7, shape=first),
    ]
    assert len(assign(parts, STOCK)) == 1


def test_planks_are_numbered_in_the_order_of_laying() -> None:
    planks = assign([ender(3, 20), starter(0, 40), starter(5, 27), ender(1, 47)], STOCK)
    assert [plank[0].order for plank in planks] == [0, 1, 3]


lengths = st.integers(min_value=1, max_value=12)


@settings(max_examples=60, deadline=None)
@given(st.lists(lengths, max_size=5), st.lists(lengths, max_size=5))
def test_no_other_pairing_reuses_more(starters: list[int], enders: list[int]) -> None:
    firsts = [Part(order=i, left=12 - n, right=12, low=0, high=1) for i, n in enumerate(starters)]
    lasts = [Part(order=9 + i, left=0, right=n, low=0, high=1) for i, n in enumerate(enders)]
    padded = [*enders, *[99] * len(starters)]
    best = max(
        sum(s + e <= 12 for s, e in zip(starters, chosen, strict=True))
        for chosen in permutations(padded, len(starters))
    )
    assert len(matched(firsts, lasts, 0)) == best


def test_the_longest_starter_gets_the_latest_room_that_fits() -> None:
    assert threshold_mates([10, 20], [9, 19, 30]) == {0: 0, 1: 1}


def test_mates_are_swapped_so_that_leftovers_wait_less() -> None:
    fits = np.ones((2, 2), dtype=bool)
    assert sooner({0: 1, 1: 0}, fits, [10, 20], [9, 19]) == {0: 0, 1: 1}


def test_a_mate_that_does_not_fit_is_not_taken() -> None:
    fits = np.array([[False, True], [True, True]])
    assert sooner({0: 1, 1: 0}, fits, [10, 20], [9, 19]) == {0: 1, 1: 0}


def planks(*parts: list[Part]) -> list[Plank]:
    return [Plank(stock=STOCK, parts=tuple(of_plank)) for of_plank in parts]


def test_the_rack_counts_leftovers_that_wait_at_once() -> None:
    cut = planks([ender(0, 20), starter(3, 20)], [ender(1, 20), starter(2, 20)], [ender(4, 20)])
    assert rack_of(cut) == 2


def test_a_full_rack_throws_away_what_would_wait_longest() -> None:
    cut = planks([ender(0, 20), starter(5, 20)], [ender(1, 20), starter(2, 20)])
    kept = within_rack(cut, 1)
    assert [[part.order for part in plank.parts] for plank in kept] == [[0], [1, 2], [5]]


def test_no_rack_at_all_means_no_reuse() -> None:
    assert len(within_rack(planks([ender(0, 20), starter(1, 20)]), 0)) == 2
