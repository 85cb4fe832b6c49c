"""Pieces and planks: what fits on one plank, and how many planks that takes."""

from __future__ import annotations

import pytest
from shapely.geometry import Polygon

from layout.planks.assign import assign
from layout.planks.parts import Part, Stock
from layout.planks.sharing import clear

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
    assert clear(ender(0, 20, slack=0.5), starter(1, 27), STOCK)
    assert not clear(ender(0, 20, slack=1), starter(1, 27), STOCK)


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
