"""Cutting stock: pieces from stock lengths at least cost, with a proven lower bound.

Few patterns: all of them go into one integer program. Many: column generation (P. C. Gilmore and
R. E. Gomory, "A linear programming approach to the cutting-stock problem", Operations Research 9,
1961), an integer program over the columns, then, while a gap is left, an integer program over
*every* pattern that a solution at the bound could use: such a solution has room for a sum of
reduced costs no greater than the gap. Where that is impossible the bound moves up.

Sizes and prices are whole numbers; sizes have the kerf added (see ``layout.trim.patterns``). Bounds
rest on dual prices rounded to whole numbers and on exact knapsacks, not on float arithmetic.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from math import ceil

from layout.solver import Program, Stop, Verdict, solve
from layout.trim.patterns import (
    Pattern,
    TooManyError,
    best_pattern,
    first_fit,
    fullest_first,
    patterns_worth,
)
from layout.values.tolerances import BOUND_TOLERANCE

FEW_PATTERNS = 3_000
MOST_PATTERNS = 60_000
NODES_OVER_COLUMNS = 200
PRICE_SCALE = 1 << 24


@dataclass(frozen=True, slots=True, kw_only=True)
class Stick:
    """A stock length that can be bought: capacity with one kerf added, price."""

    capacity: int
    price: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CutOrder:
    """What is to be cut: falling distinct sizes, how many of each, from which sticks."""

    sizes: tuple[int, ...]
    counts: tuple[int, ...]
    sticks: tuple[Stick, ...]


Column = tuple[int, Pattern]  # index of the stick, what is cut from it


@dataclass(frozen=True, slots=True, kw_only=True)
class StockCutting:
    """One column for every stick bought, what they cost, and what nothing can cost less than.

    ``known`` are the columns seen on the way, for whoever wants to choose among equals.
    """

    columns: tuple[Column, ...]
    cost: int
    bound: int
    known: tuple[Column, ...] = ()


@dataclass(slots=True)
class _Pool:
    """The columns known so far, in the order found."""

    order: CutOrder
    columns: dict[Column, None] = field(default_factory=dict)

    def add(self, pattern: Pattern) -> None:
        """Take a pattern on the cheapest stick that holds it."""
        self.columns[(cheapest_stick(self.order, pattern), pattern)] = None

    def cost(self, column: Column) -> int:
        return self.order.sticks[column[0]].price


def cheapest_stick(order: CutOrder, pattern: Pattern) -> int:
    """Return the index of the cheapest stick that holds ``pattern``, the longest of equals."""
    used = sum(n * size for n, size in zip(pattern, order.sizes, strict=True))
    holding = [i for i, stick in enumerate(order.sticks) if stick.capacity >= used]
    return min(holding, key=lambda i: (order.sticks[i].price, -order.sticks[i].capacity))


def next_cost(least: Fraction, sticks: Sequence[Stick]) -> int:
    """Return the smallest sum of stick prices that is at least ``least``."""
    floor = max(ceil(least), 0)
    size = floor + max(stick.price for stick in sticks) + 1
    mask = (1 << size) - 1
    reachable = 1
    for stick in sticks:
        step = stick.price
        while step < size:
            reachable |= (reachable << step) & mask
            step *= 2
    above = reachable >> floor
    return floor + (above & -above).bit_length() - 1


def cut(order: CutOrder, *, stop: Stop | None = None) -> StockCutting:
    """Return the cheapest cutting found and its proven bound; they meet when proven."""
    pool = _Pool(order)
    best = _by_hand(pool)
    try:
        for pattern in _every_pattern(order):
            pool.add(pattern)
        prices, bound = _prices(pool)
        complete = True
    except TooManyError:
        prices, bound = _generate(pool, stop)
        complete = False
    known = next_cost(bound, order.sticks)
    if _cost(order, best) > known:
        best, known = _integer(pool, best, known, complete=complete, stop=stop)
    if not complete:
        best, known = _close(order, best, known, prices, stop)
    cost = _cost(order, best)
    seen = tuple(dict.fromkeys([*pool.columns, *best]))
    return StockCutting(columns=tuple(best), cost=cost, bound=min(known, cost), known=seen)


def _by_hand(pool: _Pool) -> list[Column]:
    """Return the best of the simple ways, one stick at a time; their patterns join the pool."""
    order = pool.order
    ways: list[list[Column]] = []
    for stick in order.sticks:
        if stick.capacity < order.sizes[0]:
            continue
        for way in (first_fit, fullest_first):
            patterns = way(order.sizes, order.counts, stick.capacity)
            for pattern in patterns:
                pool.add(pattern)
            ways.append([(cheapest_stick(order, pattern), pattern) for pattern in patterns])
    return min(ways, key=lambda way: _cost(order, way))


def _cost(order: CutOrder, columns: Sequence[Column]) -> int:
    return sum(order.sticks[index].price for index, _ in columns)


def _every_pattern(order: CutOrder) -> list[Pattern]:
    """Return all patterns to which nothing can be added; raises TooManyError."""
    patterns: list[Pattern] = []
    nothing = [0] * len(order.sizes)
    for stick in order.sticks:
        most = FEW_PATTERNS - len(patterns)
        patterns += patterns_worth(
            order.sizes, order.counts, nothing, stick.capacity, least=0, most_patterns=most
        )
    return patterns


def _linear(pool: _Pool) -> tuple[float, ...]:
    """Return the dual price of every size over the pool's columns."""
    order, program = pool.order, Program()
    rows: list[list[tuple[int, float]]] = [[] for _ in order.sizes]
    for column in pool.columns:
        index = program.column(float(pool.cost(column)))
        for row, count in zip(rows, column[1], strict=True):
            if count:
                row.append((index, float(count)))
    for row, count in zip(rows, order.counts, strict=True):
        program.row(row, lower=float(count))
    return solve(program).duals


def _prices(pool: _Pool) -> tuple[tuple[int, ...], Fraction]:
    """Return whole dual prices over a complete pool and the bound they prove."""
    prices = tuple(max(int(y * PRICE_SCALE), 0) for y in _linear(pool))
    return _safe(pool.order, prices)


def _safe(order: CutOrder, prices: tuple[int, ...]) -> tuple[tuple[int, ...], Fraction]:
    """Return prices that no pattern exceeds (scaled), and what they prove; all exact."""
    worst = max(
        Fraction(best_pattern(order.sizes, order.counts, prices, stick.capacity)[0], stick.price)
        for stick in order.sticks
    )
    worst = max(worst, Fraction(1))
    if worst > PRICE_SCALE:
        prices = tuple(int(y * PRICE_SCALE / worst) for y in prices)
        worst = Fraction(PRICE_SCALE)
    value = sum(y * count for y, count in zip(prices, order.counts, strict=True))
    return prices, Fraction(value, PRICE_SCALE)


def _generate(pool: _Pool, stop: Stop | None) -> tuple[tuple[int, ...], Fraction]:
    """Price out patterns until none is worth more than its stick; return prices and bound."""
    order = pool.order
    best: tuple[tuple[int, ...], Fraction] = _safe(order, (0,) * len(order.sizes))
    while True:
        prices = tuple(max(int(y * PRICE_SCALE), 0) for y in _linear(pool))
        best = max(best, _safe(order, prices), key=lambda pair: pair[1])
        before = len(pool.columns)
        for stick in order.sticks:
            value, pattern = best_pattern(order.sizes, order.counts, prices, stick.capacity)
            if value > stick.price * PRICE_SCALE:
                pool.add(pattern)
        if len(pool.columns) == before or (stop is not None and stop()):
            return best


def _cover(order: CutOrder, columns: Sequence[Column], most_cost: int | None) -> Program:
    """Return the integer program: enough of every size, least cost."""
    program = Program()
    rows: list[list[tuple[int, float]]] = [[] for _ in order.sizes]
    price_row: list[tuple[int, float]] = []
    for stick_index, pattern in columns:
        price = float(order.sticks[stick_index].price)
        index = program.column(price, whole=True)
        price_row.append((index, price))
        for row, count in zip(rows, pattern, strict=True):
            if count:
                row.append((index, float(count)))
    for row, count in zip(rows, order.counts, strict=True):
        program.row(row, lower=float(count))
    if most_cost is not None:
        program.row(price_row, upper=float(most_cost))
    return program


def _integer(
    pool: _Pool, best: list[Column], known: int, *, complete: bool, stop: Stop | None
) -> tuple[list[Column], int]:
    """Return the better of ``best`` and the best of the pool, and the bound if that is complete."""
    order, columns = pool.order, list(pool.columns)
    limit = None if complete else NODES_OVER_COLUMNS
    outcome = solve(_cover(order, columns, None), stop=stop, node_limit=limit)
    if outcome.values and round(outcome.objective) < _cost(order, best):
        best = _chosen(order, columns, outcome.values)
    if complete and outcome.bound > known:
        known = next_cost(Fraction(outcome.bound - BOUND_TOLERANCE), order.sticks)
    return best, known


def _chosen(order: CutOrder, columns: Sequence[Column], values: Sequence[float]) -> list[Column]:
    """Return one column for every stick of a solution, without more pieces than are wanted."""
    left = list(order.counts)
    chosen: list[Column] = []
    for (stick, pattern), value in zip(columns, values, strict=True):
        for _ in range(round(value)):
            kept = tuple(min(n, have) for n, have in zip(pattern, left, strict=True))
            left = [have - n for have, n in zip(left, kept, strict=True)]
            if any(kept):
                chosen.append((stick, kept))
    return chosen


def _close(
    order: CutOrder, best: list[Column], known: int, prices: tuple[int, ...], stop: Stop | None
) -> tuple[list[Column], int]:
    """Raise the bound or lower the cost until they meet, or the work is stopped."""
    while known < _cost(order, best) and not (stop is not None and stop()):
        columns = _within(order, (prices, _by_length(order)), known)
        if columns is None:
            break
        outcome = solve(_cover(order, columns, known), stop=stop)
        if outcome.verdict is Verdict.IMPOSSIBLE:
            known = next_cost(Fraction(known + 1), order.sticks)
        elif outcome.values:
            best = _chosen(order, columns, outcome.values)
        else:
            break
    return best, known


def _by_length(order: CutOrder) -> tuple[int, ...]:
    """Return the scaled price of every size at the cheapest price by length."""
    rate = min(Fraction(stick.price, stick.capacity) for stick in order.sticks)
    return tuple(int(size * rate * PRICE_SCALE) for size in order.sizes)


def _within(order: CutOrder, choices: Sequence[tuple[int, ...]], cost: int) -> list[Column] | None:
    """Return every column that a solution of at most ``cost`` could use; None where too many.

    Each choice of prices bounds the reduced cost of such a column; the one that leaves the fewest
    lists them, the others thin them out.
    """
    lists: list[list[Column]] = []
    for prices in choices:
        try:
            lists.append(_listed(order, prices, _room(order, prices, cost)))
        except TooManyError:
            continue
    if not lists:
        return None
    return [
        column
        for column in min(lists, key=len)
        if all(_reduced(order, p, column) <= _room(order, p, cost) for p in choices)
    ]


def _room(order: CutOrder, prices: tuple[int, ...], cost: int) -> int:
    """Return how much reduced cost a solution of at most ``cost`` has room for, scaled."""
    value = sum(y * count for y, count in zip(prices, order.counts, strict=True))
    return cost * PRICE_SCALE - value


def _reduced(order: CutOrder, prices: tuple[int, ...], column: Column) -> int:
    """Return the reduced cost of a column, scaled."""
    value = sum(y * count for y, count in zip(prices, column[1], strict=True))
    return order.sticks[column[0]].price * PRICE_SCALE - value


def _listed(order: CutOrder, prices: tuple[int, ...], room: int) -> list[Column]:
    """Return every column whose reduced cost is at most ``room``; raises TooManyError."""
    columns: list[Column] = []
    for index, stick in enumerate(order.sticks):
        least = stick.price * PRICE_SCALE - room
        most = MOST_PATTERNS - len(columns)
        patterns = patterns_worth(
            order.sizes, order.counts, prices, stick.capacity, least=least, most_patterns=most
        )
        columns += [(index, pattern) for pattern in patterns]
    return columns
