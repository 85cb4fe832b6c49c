"""The rack: leftovers that wait at once, and what a full one throws away."""

from __future__ import annotations

from layout.planks.parts import Part, Plank, Stock
from layout.planks.rack import rack_of, within_rack

STOCK = Stock(length=48, width=7, kerf=0.125)


def starter(order: int) -> Part:
    return Part(order=order, left=28, right=48, low=0, high=7)


def ender(order: int) -> Part:
    return Part(order=order, left=0, right=20, low=0, high=7)


def planks(*parts: list[Part]) -> list[Plank]:
    return [Plank(stock=STOCK, parts=tuple(of_plank)) for of_plank in parts]


def test_the_rack_counts_leftovers_that_wait_at_once() -> None:
    cut = planks([ender(0), starter(3)], [ender(1), starter(2)], [ender(4)])
    assert rack_of(cut) == 2


def test_a_full_rack_throws_away_what_would_wait_longest() -> None:
    cut = planks([ender(0), starter(5)], [ender(1), starter(2)])
    kept = within_rack(cut, 1)
    assert [[part.order for part in plank.parts] for plank in kept] == [[0], [1, 2], [5]]


def test_no_rack_at_all_means_no_reuse() -> None:
    assert len(within_rack(planks([ender(0), starter(1)]), 0)) == 2
