"""Stock lengths against published optima: cutting stock and bin packing, proven, times printed."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from layout.trim.order import CutOrder, Stick
from layout.trim.patterns import first_fit
from layout.trim.stock import StockCutting, cut
from tests.layout.packing_instances import INSTANCES

# E. Falkenauer, Journal of Heuristics 2 (1996), instance t60_00 (OR-Library binpack5): capacity
# 1000, twenty bins without waste.
T60_00 = (
    "495 474 473 472 466 450 445 444 439 430 419 414 410 395 372 370 366 366 366 363 361 357 355 "
    "351 350 350 347 320 315 307 303 299 298 298 292 288 287 283 275 275 274 273 273 272 272 271 "
    "269 269 268 263 262 261 259 258 255 254 252 252 252 251"
)
# The standing paper-machine example of encyclopedias: rolls of 5600, width x count.
PAPER = (
    "1380x22 1520x25 1560x12 1710x14 1820x18 1880x18 1930x20 2000x10 2050x12 2100x14 2140x16 "
    "2150x18 2200x20"
)


def _order(capacity: int, counts: dict[int, int], *, kerf: int = 0) -> CutOrder:
    sizes = sorted(counts, reverse=True)
    return CutOrder(
        sizes=tuple(size + kerf for size in sizes),
        counts=tuple(counts[size] for size in sizes),
        sticks=(Stick(capacity=capacity + kerf, price=1),),
    )


def _items(text: str) -> dict[int, int]:
    return dict(Counter(int(item) for item in text.split()))


def _holds(order: CutOrder, cutting: StockCutting) -> bool:
    """Whether every stick fits and every piece is cut once."""
    cut_of_each = [
        sum(pattern[i] for _, pattern in cutting.columns) for i in range(len(order.sizes))
    ]
    fits = all(
        sum(n * size for n, size in zip(pattern, order.sizes, strict=True))
        <= order.sticks[stick].capacity
        for stick, pattern in cutting.columns
    )
    enough = all(n >= want for n, want in zip(cut_of_each, order.counts, strict=True))
    return fits and enough and len(cutting.columns) == cutting.cost


def _proven(order: CutOrder) -> int:
    """Return the proven number of sticks, 0 where it is not proven or does not hold."""
    cutting = cut(order)
    return cutting.cost if cutting.bound == cutting.cost and _holds(order, cutting) else 0


@pytest.mark.parametrize("name", INSTANCES)
def test_published_instance_is_cut_at_its_proven_optimum(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    capacity, optimum, items = INSTANCES[name]
    began = time.perf_counter()
    sticks = _proven(_order(capacity, _items(items)))
    with capsys.disabled():
        print(f"\n  {name:9} {sticks:3} sticks, {time.perf_counter() - began:.2f} s", end="")  # noqa: T201
    assert sticks == optimum


def test_paper_machine_example_needs_73_rolls() -> None:
    counts = {int(w): int(n) for w, n in (pair.split("x") for pair in PAPER.split())}
    assert _proven(_order(5600, counts)) == 73


def test_winstons_boards_need_19() -> None:
    """W. L. Winston, Operations Research: Applications and Algorithms, column generation."""
    assert _proven(_order(17, {3: 25, 5: 20, 9: 15})) == 19


@pytest.mark.parametrize(("tens", "boards"), [(300, 775), (500, 875)])
def test_lumber_yard_of_25_foot_boards(tens: int, boards: int) -> None:
    """Textbook problem of the B. W. Taylor type: 7 ft x 700, 9 ft x 1200, 10 ft pieces."""
    assert _proven(_order(25, {7: 700, 9: 1200, 10: tens})) == boards


def test_triplets_without_waste_need_20_sticks() -> None:
    assert _proven(_order(1000, _items(T60_00))) == 20


def test_any_kerf_makes_the_triplets_dearer() -> None:
    assert _proven(_order(1000, _items(T60_00), kerf=1)) > 20


def test_baseboard_takeoff_of_421_feet_orders_enough() -> None:
    """Dagostino and Peterson, Estimating in Building Construction, example 13-25: 421 lf."""
    cutting = cut(_order(16, {1: 421}))
    assert (cutting.cost, cutting.bound) == (27, 27)


@settings(deadline=None, max_examples=40)
@given(st.lists(st.integers(1, 60), min_size=1, max_size=25))
def test_first_fit_decreasing_keeps_its_published_bound(items: list[int]) -> None:
    """At most 11/9 of the optimum + 6/9 (G. Dosa, 2007; from memory)."""
    order = _order(60, dict(Counter(items)))
    sticks = first_fit(order.sizes, order.counts, 60)
    assert 9 * len(sticks) <= 11 * cut(order).cost + 6


def _fewest(items: Sequence[int], rooms: list[int], capacity: int, best: int) -> int:
    """Return the fewest bins, by trying every place for every item."""
    if len(rooms) >= best:
        return best
    if not items:
        return len(rooms)
    for place in range(len(rooms)):
        if rooms[place] >= items[0]:
            rooms[place] -= items[0]
            best = _fewest(items[1:], rooms, capacity, best)
            rooms[place] += items[0]
    return _fewest(items[1:], [*rooms, capacity - items[0]], capacity, best)


@settings(deadline=None, max_examples=60)
@given(st.lists(st.integers(5, 40), min_size=1, max_size=9))
def test_small_orders_agree_with_trying_everything(items: list[int]) -> None:
    falling = sorted(items, reverse=True)
    assert _proven(_order(50, dict(Counter(items)))) == _fewest(falling, [], 50, len(items) + 1)
