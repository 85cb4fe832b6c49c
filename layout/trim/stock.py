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

from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from fractions import Fraction

from layout.solver import Program, Verdict, solve
from layout.trim.order import (
    Column,
    CutOrder,
    cheapest_stick,
    chosen,
    cover,
    least_by_length,
    next_cost,
)
from layout.trim.patience import FOREVER, OutOfTimeError, Patience
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
MOST_FILLED = 2_000  # pieces up to which sticks are filled one by one as full as they go
NODES_OVER_COLUMNS = 200
PRICE_SCALE = 1 << 24


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
    patience: Patience = FOREVER
    columns: dict[Column, None] = field(default_factory=dict)

    def add(self, pattern: Pattern) -> None:
        """Take a pattern on the cheapest stick that holds it."""
        self.columns[(cheapest_stick(self.order, pattern), pattern)] = None

    def cost(self, column: Column) -> int:
        return self.order.sticks[column[0]].price


def cut(order: CutOrder, *, patience: Patience = FOREVER) -> StockCutting:
    """Return the cheapest cutting found and its proven bound; they meet when proven.

    Raises OutOfTimeError where the time is up before a first cutting stands.
    """
    pool = _Pool(order, patience)
    best, known = _by_hand(pool), least_by_length(order)
    with suppress(OutOfTimeError):
        prices, bound, complete = _priced(pool)
        known = max(known, next_cost(bound, order.sticks))
        if _cost(order, best) > known:
            best, known = _integer(pool, best, known, complete=complete)
        if not complete:
            for cutting, least in _closing(pool, best, known, prices):
                best, known = cutting, least
    cost = _cost(order, best)
    seen = tuple(dict.fromkeys([*pool.columns, *best]))
    return StockCutting(columns=tuple(best), cost=cost, bound=min(known, cost), known=seen)


def bound_by_prices(order: CutOrder, patience: Patience) -> Fraction:
    """Return what nothing can cost less than, by dual prices: no cutting is looked for."""
    pool, kinds = _Pool(order, patience), len(order.sizes)
    longest = max(stick.capacity for stick in order.sticks)
    for index, size in enumerate(order.sizes):
        alike = min(order.counts[index], longest // size)
        pool.add((*(0,) * index, alike, *(0,) * (kinds - index - 1)))
    return _generate(pool)[1]


def _priced(pool: _Pool) -> tuple[tuple[int, ...], Fraction, bool]:
    """Return dual prices, what they prove, and whether the pool has every pattern."""
    try:
        for pattern in _every_pattern(pool):
            pool.add(pattern)
        return (*_prices(pool), True)
    except TooManyError:
        return (*_generate(pool), False)


def _by_hand(pool: _Pool) -> list[Column]:
    """Return the best of the simple ways, one stick at a time; their patterns join the pool."""
    order = pool.order
    ways: list[list[Column]] = []
    for stick in order.sticks:
        if stick.capacity < order.sizes[0]:
            continue
        filled = first_fit(order.sizes, order.counts, stick.capacity, pool.patience)
        ways.append(_taken(pool, filled))
        if sum(order.counts) > MOST_FILLED:
            continue
        with suppress(OutOfTimeError):
            filled = fullest_first(order.sizes, order.counts, stick.capacity, pool.patience)
            ways.append(_taken(pool, filled))
    return min(ways, key=lambda way: _cost(order, way))


def _taken(pool: _Pool, patterns: Sequence[Pattern]) -> list[Column]:
    """Return patterns on their cheapest sticks, taken into the pool."""
    known: dict[Pattern, Column] = {}
    for pattern in patterns:
        if pattern not in known:
            pool.add(pattern)
            known[pattern] = (cheapest_stick(pool.order, pattern), pattern)
    return [known[pattern] for pattern in patterns]


def _cost(order: CutOrder, columns: Sequence[Column]) -> int:
    return sum(order.sticks[index].price for index, _ in columns)


def _every_pattern(pool: _Pool) -> list[Pattern]:
    """Return all patterns to which nothing can be added; raises TooManyError."""
    order, patience = pool.order, pool.patience
    patterns: list[Pattern] = []
    nothing = [0] * len(order.sizes)
    for stick in order.sticks:
        most = FEW_PATTERNS - len(patterns)
        patterns += patterns_worth(
            order.sizes,
            order.counts,
            nothing,
            stick.capacity,
            least=0,
            most_patterns=most,
            patience=patience,
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
    pool.patience.check()
    outcome = solve(program, time_limit_s=pool.patience.seconds())
    if outcome.verdict is not Verdict.BEST:
        raise OutOfTimeError
    return outcome.duals


def _prices(pool: _Pool) -> tuple[tuple[int, ...], Fraction]:
    """Return whole dual prices over a complete pool and the bound they prove."""
    prices = tuple(max(int(y * PRICE_SCALE), 0) for y in _linear(pool))
    return _safe(pool, prices)


def _safe(pool: _Pool, prices: tuple[int, ...]) -> tuple[tuple[int, ...], Fraction]:
    """Return prices that no pattern exceeds (scaled), and what they prove; all exact."""
    order = pool.order
    worst = max(
        Fraction(_worth(pool, prices, stick.capacity)[0], stick.price) for stick in order.sticks
    )
    worst = max(worst, Fraction(1))
    if worst > PRICE_SCALE:
        prices = tuple(int(y * PRICE_SCALE / worst) for y in prices)
        worst = Fraction(PRICE_SCALE)
    value = sum(y * count for y, count in zip(prices, order.counts, strict=True))
    return prices, Fraction(value, PRICE_SCALE)


def _worth(pool: _Pool, prices: tuple[int, ...], capacity: int) -> tuple[int, Pattern]:
    """Return the most that a stick can hold at some prices, and a pattern that has it."""
    order = pool.order
    return best_pattern(order.sizes, order.counts, prices, capacity, pool.patience)


def _generate(pool: _Pool) -> tuple[tuple[int, ...], Fraction]:
    """Price out patterns until none is worth more than its stick; return prices and bound."""
    order = pool.order
    nothing = (0,) * len(order.sizes)
    best: tuple[tuple[int, ...], Fraction] = (nothing, Fraction(0))
    with suppress(OutOfTimeError):
        while True:
            prices = tuple(max(int(y * PRICE_SCALE), 0) for y in _linear(pool))
            best = max(best, _safe(pool, prices), key=lambda pair: pair[1])
            before = len(pool.columns)
            for stick in order.sticks:
                value, pattern = _worth(pool, prices, stick.capacity)
                if value > stick.price * PRICE_SCALE:
                    pool.add(pattern)
            if len(pool.columns) == before or pool.patience.look():
                break
    return best


def _integer(
    pool: _Pool, best: list[Column], known: int, *, complete: bool
) -> tuple[list[Column], int]:
    """Return the better of ``best`` and the best of the pool, and the bound if that is complete."""
    order, columns = pool.order, list(pool.columns)
    limit = None if complete else NODES_OVER_COLUMNS
    outcome = solve(
        cover(order, columns, None),
        stop=pool.patience.look,
        time_limit_s=pool.patience.seconds(),
        node_limit=limit,
    )
    if outcome.values and round(outcome.objective) < _cost(order, best):
        best = chosen(order, columns, outcome.values)
    if complete and outcome.bound > known:
        known = next_cost(Fraction(outcome.bound - BOUND_TOLERANCE), order.sticks)
    return best, known


def _closing(
    pool: _Pool, best: list[Column], known: int, prices: tuple[int, ...]
) -> Iterator[tuple[list[Column], int]]:
    """Yield better cuttings and bounds until they meet, or the work is stopped."""
    order, look = pool.order, pool.patience.look
    yield best, known
    while known < _cost(order, best) and not look():
        columns = _within(pool, (prices, _by_length(order)), known)
        if columns is None:
            break
        outcome = solve(
            cover(order, columns, known), stop=look, time_limit_s=pool.patience.seconds()
        )
        if outcome.verdict is Verdict.IMPOSSIBLE:
            known = next_cost(Fraction(known + 1), order.sticks)
        elif outcome.values:
            best = chosen(order, columns, outcome.values)
        else:
            break
        yield best, known


def _by_length(order: CutOrder) -> tuple[int, ...]:
    """Return the scaled price of every size at the cheapest price by length."""
    rate = min(Fraction(stick.price, stick.capacity) for stick in order.sticks)
    return tuple(int(size * rate * PRICE_SCALE) for size in order.sizes)


def _within(pool: _Pool, choices: Sequence[tuple[int, ...]], cost: int) -> list[Column] | None:
    """Return every column that a solution of at most ``cost`` could use; None where too many.

    Each choice of prices bounds the reduced cost of such a column; the one that leaves the fewest
    lists them, the others thin them out.
    """
    order = pool.order
    lists: list[list[Column]] = []
    for prices in choices:
        try:
            lists.append(_listed(pool, prices, _room(order, prices, cost)))
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


def _listed(pool: _Pool, prices: tuple[int, ...], room: int) -> list[Column]:
    """Return every column whose reduced cost is at most ``room``; raises TooManyError."""
    order = pool.order
    columns: list[Column] = []
    for index, stick in enumerate(order.sticks):
        least = stick.price * PRICE_SCALE - room
        most = MOST_PATTERNS - len(columns)
        patterns = patterns_worth(
            order.sizes,
            order.counts,
            prices,
            stick.capacity,
            least=least,
            most_patterns=most,
            patience=pool.patience,
        )
        columns += [(index, pattern) for pattern in patterns]
    return columns
