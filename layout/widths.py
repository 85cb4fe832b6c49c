"""Boards of several widths in one carton: which widths, row by row.

One width a row. Wanted, in this order: no sliver at any stopping line, few cartons (each width is
used about as fast as the cartons bring it), a last row that needs no rip, strips of half a board
or more, and no width more than twice running.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby, product
from math import ceil
from random import Random

from shapely.geometry import Polygon

from layout.material import Board
from layout.strips import StoppingLine, stopping_lines

Widths = tuple[float, ...]

_CRUMB = 1e-6
_SPREAD = {2: 8, 3: 5, 4: 3}  # rows more or less of a width than its share, by number of widths
_COUNTS_TRIED = 8
_ORDERS_TRIED = 80
_ORDERS_KEPT = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """The width of every row from the start wall on, and what it is compared by."""

    widths: Widths
    rank: tuple[float, ...]


def width_orders(
    part: Polygon, boards: Sequence[Board], least_run: float, min_width: float, rng: Random
) -> list[Widths]:
    """Return some good orders of widths for one connected region, the best first."""
    _, low, _, high = part.bounds
    across = high - low
    lines = stopping_lines(part, max(board.width for board in boards), least_run)
    boards_a_row = part.area / across / boards[0].length
    orders: dict[Widths, Order] = {}
    for counts in _counts(boards, across, boards_a_row, min_width)[:_COUNTS_TRIED]:
        for _ in range(_ORDERS_TRIED):
            widths = _shuffled(boards, counts, rng)
            if widths not in orders:
                rank = _rank(widths, low, across, lines, boards, boards_a_row, min_width)
                orders[widths] = Order(widths=widths, rank=rank)
    best = sorted(orders.values(), key=lambda order: (order.rank, order.widths))
    return [order.widths for order in best[:_ORDERS_KEPT]]


def _counts(
    boards: Sequence[Board], across: float, boards_a_row: float, min_width: float
) -> list[tuple[int, ...]]:
    """Return how many rows of every width may fill the floor across, the best first."""
    carton = sum(board.width * board.per_carton for board in boards)
    share = [across * board.per_carton / carton for board in boards]
    spread = _SPREAD.get(len(boards), 2)
    found = []
    for counts in product(*(range(max(0, int(n) - spread), int(n) + spread + 2) for n in share)):
        over = sum(n * b.width for n, b in zip(counts, boards, strict=True)) - across
        widest = max((b.width for n, b in zip(counts, boards, strict=True) if n), default=0.0)
        if -_CRUMB <= over < widest - min_width:
            cartons = _cartons(counts, boards, boards_a_row)
            found.append(((ceil(cartons - _CRUMB), over > _CRUMB, cartons, over), counts))
    return [counts for _, counts in sorted(found)]


def _cartons(counts: Sequence[int], boards: Sequence[Board], boards_a_row: float) -> float:
    """Return the cartons that so many rows of every width take."""
    return max(n * boards_a_row / board.per_carton for n, board in zip(counts, boards, strict=True))


def _shuffled(boards: Sequence[Board], counts: Sequence[int], rng: Random) -> Widths:
    """Return the rows in a random order in which no width comes thrice running, if it can be."""
    left = dict(zip((board.width for board in boards), counts, strict=True))
    order: list[float] = []
    while any(left.values()):
        open_ = [w for w, n in left.items() if n and order[-2:] != [w, w]]
        open_ = open_ or [w for w, n in left.items() if n]
        order.append(rng.choices(open_, [left[w] for w in open_])[0])
        left[order[-1]] -= 1
    return tuple(order)


def _rank(
    widths: Widths,
    low: float,
    across: float,
    lines: Sequence[StoppingLine],
    boards: Sequence[Board],
    boards_a_row: float,
    min_width: float,
) -> tuple[float, ...]:
    """Return what an order is compared by, the least the best."""
    over = sum(widths) - across
    if over > widths[-1] - min_width:
        return (1e9,)
    strips = list(_strips(widths, low, lines))
    counts = [sum(w == board.width for w in widths) for board in boards]
    cartons = _cartons(counts, boards, boards_a_row)
    return (
        sum(strip < min_width - _CRUMB for strip, _ in strips),
        ceil(cartons - _CRUMB),
        over > _CRUMB,
        sum(strip < width / 2 - _CRUMB for strip, width in strips),
        thrice_running(widths),
        cartons,
        -min((strip for strip, _ in strips), default=0.0),
    )


def _strips(
    widths: Widths, low: float, lines: Sequence[StoppingLine]
) -> Iterator[tuple[float, float]]:
    """Yield every stopping line's strip, 0 where a row line crosses it, and its row's width."""
    marks = [low]
    for width in widths:
        marks.append(marks[-1] + width)
    for line in lines:
        if line.above:
            k = min(bisect_right(marks, line.high + _CRUMB), len(widths))
            crossed = marks[k - 1] > line.low + _CRUMB
            yield (0.0 if crossed else marks[k] - line.high), widths[k - 1]
        else:
            k = max(bisect_left(marks, line.low - _CRUMB) - 1, 0)
            crossed = k + 1 < len(marks) and marks[k + 1] < line.high - _CRUMB
            yield (0.0 if crossed else line.low - marks[k]), widths[min(k, len(widths) - 1)]


def thrice_running(widths: Sequence[float]) -> int:
    """Return how many rows have the width of both rows before them."""
    return sum(max(0, len(list(rows)) - 2) for _, rows in groupby(widths))


def narrowest_of(widths: Widths, part: Polygon, least_run: float) -> float:
    """Return the narrowest strip that rows of these widths leave at any stopping line."""
    lines = stopping_lines(part, max(widths), least_run)
    low = float(part.bounds[1])
    return min((strip for strip, _ in _strips(widths, low, lines)), default=max(widths))
