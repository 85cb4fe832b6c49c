"""Starters and enders: the largest matching, and the one whose leftovers wait least."""

from __future__ import annotations

from itertools import permutations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from layout.planks.matching import matched, sooner, threshold_mates
from layout.planks.parts import Part, Stock

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
    assert len(matched(firsts, lasts, Stock(length=12, width=1, kerf=0))) == best


def test_the_longest_starter_gets_the_latest_room_that_fits() -> None:
    assert threshold_mates([10, 20], [9, 19, 30]) == {0: 0, 1: 1}


def test_mates_are_swapped_so_that_leftovers_wait_less() -> None:
    fits = np.ones((2, 2), dtype=bool)
    assert sooner({0: 1, 1: 0}, fits, [10, 20], [9, 19]) == {0: 0, 1: 1}


def test_a_mate_that_does_not_fit_is_not_taken() -> None:
    fits = np.array([[False, True], [True, True]])
    assert sooner({0: 1, 1: 0}, fits, [10, 20], [9, 19]) == {0: 1, 1: 0}
