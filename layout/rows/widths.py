"""Boards of several widths in one carton: which widths, row by row.

One width a row. Wanted, in this order: no sliver at any stopping line, few cartons (each width is
used about as fast as the cartons bring it), no width more than twice running, a last row
that needs no rip, few planks, strips of half a board or more. Where piles are counted, the cartons
are those to be bought beside them, then as few planks as can be are missing.

First how many rows of every width: all counts that fill the floor across, those of few cartons
and planks first. Then in which order, by dynamic programming from row to row over what has been
laid of every width and the widths of the last two rows: what a row costs at stopping lines
depends on nothing else. Where these are many, only the best are followed (a beam).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby, product
from math import ceil
from random import Random

from shapely.geometry import Polygon

from layout.rows.rows import Row
from layout.rows.strips import StoppingLine, stopping_lines
from layout.values.goods.piles import SizePiles, cartons_to_buy
from layout.values.material import Board
from layout.values.plan import RuleWarning
from layout.values.tolerances import TOUCHING_TOLERANCE

Widths = tuple[float, ...]

_SPREAD = {2: 8, 3: 5, 4: 3}  # rows more or less of a width than its share, by number of widths
_COUNTS_TRIED = 6
_FLAVORS = 2  # orders looked for of every count of rows
_ORDERS_KEPT = 10
_ORDERS_OF_COUNTS = 2
_BEAM = 60
_STEPS = 1500  # rows times states followed, at most, but for a dozen states
_SLIVER, _THRICE, _NARROW = 1e8, 1e5, 1e3  # what a row costs; uneven use comes to far less
_FLAVOR = 0.4  # how far chance may make use uneven


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """The width of every row from the start wall on, and what it is compared by."""

    widths: Widths
    rank: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Floor:
    """What an order must fill: from ``low`` on so far ``across``, by its stopping lines.

    ``planks_a_row`` is what a row takes on average, rows one after another.
    """

    boards: tuple[Board, ...]
    low: float
    across: float
    lines: tuple[StoppingLine, ...]
    planks_a_row: float
    min_width: float
    sizes: tuple[SizePiles, ...]

    def planks(self, counts: Sequence[int]) -> list[int]:
        """Return the planks of every width that so many rows take."""
        return [ceil(n * self.planks_a_row - TOUCHING_TOLERANCE) for n in counts]

    def cartons(self, counts: Sequence[int]) -> int:
        """Return the cartons to buy for so many rows of every width."""
        return cartons_to_buy(self.sizes, self.planks(counts))

    def missing(self, counts: Sequence[int]) -> int:
        """Return the planks that are in no pile, 0 where piles are not counted."""
        taken = zip(self.planks(counts), self.sizes, strict=True)
        return sum(size.missing(planks) for planks, size in taken if size.counted)

    def share(self) -> list[float]:
        """Return the rows of every width that use piles, then cartons, at an even pace."""
        held = [size.there / self.planks_a_row for size in self.sizes]
        bought = [float(board.per_carton) for board in self.boards]
        there = sum(n * board.width for n, board in zip(held, self.boards, strict=True))
        if there >= self.across:
            return [n * self.across / there for n in held]
        carton = sum(n * board.width for n, board in zip(bought, self.boards, strict=True))
        more = (self.across - there) / carton
        return [n + more * count for n, count in zip(held, bought, strict=True)]

    def over(self, counts: Sequence[int]) -> float:
        """Return how far so many rows reach past the floor."""
        return sum(n * b.width for n, b in zip(counts, self.boards, strict=True)) - self.across


def width_orders(
    part: Polygon,
    sizes: Sequence[SizePiles],
    least_run: float,
    min_width: float,
    rng: Random,
    planks_a_row: float | None = None,
) -> list[Widths]:
    """Return some good orders of widths for one connected region, the best first.

    ``planks_a_row`` is what a row takes on average where more is known than the floor's area.
    """
    _, low, _, high = part.bounds
    boards = tuple(size.board for size in sizes)
    floor = _Floor(
        boards=boards,
        low=low,
        across=high - low,
        lines=stopping_lines(part, max(board.width for board in boards), least_run),
        planks_a_row=planks_a_row or part.area / (high - low) / boards[0].length,
        min_width=min_width,
        sizes=tuple(sizes),
    )
    return list(_orders(floor, rng.getrandbits(32)))


@lru_cache(maxsize=16)
def _orders(floor: _Floor, seed: int) -> tuple[Widths, ...]:
    """Return good orders for a floor, the best first; asked for again at every stage of a plan."""
    rng = Random(seed)
    kept: dict[Widths, Order] = {}
    for counts in _counts(floor)[:_COUNTS_TRIED]:
        orders = {_ordered(floor, counts, rng, flavor=k > 0) for k in range(_FLAVORS)}
        ranked = [Order(widths=widths, rank=_rank(floor, counts, widths)) for widths in orders]
        ranked.sort(key=lambda order: (order.rank, order.widths))
        kept.update({order.widths: order for order in ranked[:_ORDERS_OF_COUNTS]})
    best = sorted(kept.values(), key=lambda order: (order.rank, order.widths))
    return tuple(order.widths for order in best[:_ORDERS_KEPT])


def _counts(floor: _Floor) -> list[tuple[int, ...]]:
    """Return how many rows of every width may fill the floor across, the best first."""
    boards = floor.boards
    share = floor.share()
    spread = _SPREAD.get(len(boards), 2)
    ranked = []
    for counts in product(*(range(max(0, int(n) - spread), int(n) + spread + 2) for n in share)):
        over = floor.over(counts)
        widest = max((b.width for n, b in zip(counts, boards, strict=True) if n), default=0.0)
        if -TOUCHING_TOLERANCE <= over < widest - floor.min_width:
            uneven = sum((n - part) ** 2 for n, part in zip(counts, share, strict=True))
            planks = sum(floor.planks(counts))
            buys = floor.cartons(counts), floor.missing(counts)
            rank = (*buys, over > TOUCHING_TOLERANCE, planks, uneven, over)
            ranked.append((rank, counts))
    return [counts for _, counts in sorted(ranked)]


_Step = tuple[tuple[int, ...], int, int]  # rows laid of every width, the last width, how often
_Layer = dict[_Step, tuple[float, _Step]]  # what the rows cost, and where they go on from


def _ordered(floor: _Floor, counts: Sequence[int], rng: Random, *, flavor: bool) -> Widths:
    """Return the best order of so many rows of every width; with ``flavor`` another good one."""
    total = sum(counts)
    beam = max(12, min(_BEAM, _STEPS // max(1, total)))
    begin: _Step = ((0,) * len(counts), -1, 0)
    layers: list[_Layer] = [{begin: (0.0, begin)}]
    prices: dict[tuple[tuple[int, ...], int], float] = {}
    for number in range(1, total + 1):
        layer: _Layer = {}
        due = [number / total * count for count in counts]
        for step, (cost, _) in layers[-1].items():
            laid, last, running = step
            for index in range(len(counts)):
                if laid[index] == counts[index]:
                    continue
                key = laid, index
                if key not in prices:
                    chance = rng.random() * _FLAVOR if flavor else 0.0
                    prices[key] = _price(floor, laid, index, due) + chance
                price = cost + prices[key] + _THRICE * (index == last and running > 1)
                new = (
                    (*laid[:index], laid[index] + 1, *laid[index + 1 :]),
                    index,
                    2 if index == last else 1,
                )
                if new not in layer or price < layer[new][0]:
                    layer[new] = price, step
        layers.append(dict(sorted(layer.items(), key=lambda i: (i[1][0], i[0]))[:beam]))
    return _walked_back(floor, layers)


def _walked_back(floor: _Floor, layers: Sequence[_Layer]) -> Widths:
    """Return the widths along the cheapest way through the layers."""
    step = min(layers[-1], key=lambda step: (layers[-1][step][0], step))
    widths: list[float] = []
    for layer in reversed(layers[1:]):
        widths.append(floor.boards[step[1]].width)
        step = layer[step][1]
    return tuple(reversed(widths))


def _uneven(laid: Sequence[int], index: int, due: Sequence[float]) -> float:
    """Return how far rows, one more of a width, are from what is due of every width by then."""
    return sum(
        (n + (i == index) - part) ** 2 for i, (n, part) in enumerate(zip(laid, due, strict=True))
    )


def _price(floor: _Floor, laid: Sequence[int], index: int, due: Sequence[float]) -> float:
    """Return what one more row of a width costs: strips at stopping lines, and uneven use."""
    at = floor.low + sum(n * board.width for n, board in zip(laid, floor.boards, strict=True))
    width = floor.boards[index].width
    strips = [strip for line in floor.lines for strip in _strip(line, at, at + width)]
    return (
        sum(
            _SLIVER * (strip < floor.min_width - TOUCHING_TOLERANCE)
            + _NARROW * (strip < width / 2 - TOUCHING_TOLERANCE)
            for strip in strips
        )
        + _uneven(laid, index, due) / 10
    )


def _strip(line: StoppingLine, low: float, high: float) -> Iterator[float]:
    """Yield the strip that a stopping line leaves of a row, 0 where a row line crosses it."""
    if line.above and low <= line.high + TOUCHING_TOLERANCE < high:
        yield 0.0 if low > line.low + TOUCHING_TOLERANCE else high - line.high
    if not line.above and low < line.low - TOUCHING_TOLERANCE <= high:
        yield 0.0 if high < line.high - TOUCHING_TOLERANCE else line.low - low


def _rank(floor: _Floor, counts: Sequence[int], widths: Widths) -> tuple[float, ...]:
    """Return what an order is compared by, the least the best."""
    over = floor.over(counts)
    if over > widths[-1] - floor.min_width:
        return (1e9,)
    strips = list(_strips(widths, floor.low, floor.lines))
    return (
        sum(strip < floor.min_width - TOUCHING_TOLERANCE for strip, _ in strips),
        floor.cartons(counts),
        floor.missing(counts),
        thrice_running(widths),
        over > TOUCHING_TOLERANCE,
        sum(floor.planks(counts)),
        sum(strip < width / 2 - TOUCHING_TOLERANCE for strip, width in strips),
        -min((strip for strip, _ in strips), default=0.0),
    )


def _strips(
    widths: Widths, low: float, lines: Sequence[StoppingLine]
) -> Iterator[tuple[float, float]]:
    """Yield every stopping line's strip, 0 where a row line crosses it, and its row's width."""
    at = low
    for width in widths:
        for line in lines:
            for strip in _strip(line, at, at + width):
                yield strip, width
        at += width


def thrice_running(widths: Sequence[float]) -> int:
    """Return how many rows have the width of both rows before them."""
    return sum(max(0, len(list(rows)) - 2) for _, rows in groupby(widths))


def thrice_in(rows: Sequence[Row]) -> int:
    """Return how many rows of a floor have the width of both rows before them in their part."""
    return sum(thrice_running([round(r.y1 - r.y0, 6) for r in part]) for part in _by_part(rows))


def ripped_last(rows: Sequence[Row]) -> int:
    """Return how many parts of a floor end with a row that is ripped along."""
    return sum(_highest(part[-1]) < part[-1].y1 - TOUCHING_TOLERANCE for part in _by_part(rows))


def _highest(row: Row) -> float:
    """Return how high the floor in a row reaches."""
    return max((float(run.shape.bounds[3]) for run in row.runs), default=row.y1)


def _by_part(rows: Sequence[Row]) -> list[list[Row]]:
    """Return the rows of every part: each begins where the one before it ends."""
    parts: list[list[Row]] = []
    for row in rows:
        if parts and abs(parts[-1][-1].y1 - row.y0) < TOUCHING_TOLERANCE:
            parts[-1].append(row)
        else:
            parts.append([row])
    return parts


def width_warnings(rows: Sequence[Row], sizes: Sequence[SizePiles]) -> tuple[RuleWarning, ...]:
    """Return the warning of widths that come thrice running, where several are mixed."""
    count = thrice_in(rows) if len(sizes) > 1 else 0
    if not count:
        return ()
    few = "makes do with the piles" if sizes[0].counted else "takes as few cartons"
    have = "row has" if count == 1 else "rows have"
    return (
        RuleWarning(
            rule="widths",
            where="floor",
            value=count,
            limit=0,
            text=f"{count} {have} the width of both rows before; "
            f"no order of rows that was found {few} and avoids it.",
        ),
    )


def narrowest_of(widths: Widths, part: Polygon, least_run: float) -> float:
    """Return the narrowest strip that rows of these widths leave at any stopping line."""
    lines = stopping_lines(part, max(widths), least_run)
    low = float(part.bounds[1])
    return min((strip for strip, _ in _strips(widths, low, lines)), default=max(widths))
