"""Walls longer than any stock length: parts of free length among the pieces of fixed length.

A column says which fixed pieces and how many parts of which wall come from one stick; how long
the parts are is left to continuous columns beside it. Copies of one column may be averaged (what
a stick can hold is convex), so the integer program is exact: its parts, once dealt out, are whole
numbers because they are a flow.

The same program chooses among equals: least cost, then fewest sticks, then the longest single
left-over.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from layout.solver import Coefficients, Program, solve
from layout.trim.order import Column, CutOrder
from layout.trim.patience import FOREVER, Patience
from layout.trim.patterns import Pattern, TooManyError, all_patterns

MOST_COLUMNS = 30_000
NODES_AMONG_EQUALS = 500


@dataclass(frozen=True, slots=True, kw_only=True)
class LongWall:
    """A wall to be joined from ``parts`` parts that sum to ``length``."""

    length: int
    parts: int


@dataclass(frozen=True, slots=True, kw_only=True)
class JoinedOrder:
    """Fixed pieces, long walls, and how short and long a part may be; all without kerf but the
    sizes and capacities of ``order``.
    """

    order: CutOrder
    walls: tuple[LongWall, ...]
    kerf: int
    least_part: int
    most_part: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CutStick:
    """One stick bought: its stock, the fixed pieces of each size, the parts as (wall, length)."""

    stock: int
    pieces: Pattern
    parts: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Special:
    """The stick whose left-over is to be as long as can be: its columns in the program."""

    stock: int
    pieces: list[int]
    counts: list[int]
    lengths: list[int]


@dataclass(slots=True)
class _Model:
    """The program with the columns that say what is bought."""

    program: Program = field(default_factory=Program)
    bought: list[int] = field(default_factory=list)
    covered: list[list[tuple[int, float]]] = field(default_factory=list)
    parts: list[list[tuple[int, float]]] = field(default_factory=list)
    lengths: list[list[tuple[int, float]]] = field(default_factory=list)
    special: _Special | None = None


def every_column(joined: JoinedOrder, patience: Patience = FOREVER) -> list[Column]:
    """Return every way to cut a stick into fixed pieces and parts. Raises TooManyError."""
    order = joined.order
    slot = joined.least_part + joined.kerf
    sizes = (*order.sizes, *(slot for _ in joined.walls))
    limits = (*order.counts, *(wall.parts for wall in joined.walls))
    columns: list[Column] = []
    for index, stick in enumerate(order.sticks):
        most = MOST_COLUMNS - len(columns)
        if most <= 0:
            raise TooManyError
        patterns = all_patterns(
            sizes, limits, stick.capacity, most_patterns=most, patience=patience
        )
        columns += [(index, pattern) for pattern in patterns if any(pattern)]
    return columns


def least_cost(
    joined: JoinedOrder, columns: Sequence[Column], patience: Patience
) -> tuple[list[CutStick], float]:
    """Return the cheapest sticks found over ``columns`` and the bound proven; no stick if none."""
    model = _model(joined, columns)
    outcome = solve(model.program, stop=patience.look, time_limit_s=patience.seconds())
    if not outcome.values:
        return [], outcome.bound
    return _dealt(joined, columns, model, outcome.values), outcome.bound


def best_of_equals(
    joined: JoinedOrder, columns: Sequence[Column], cost: int, patience: Patience
) -> list[CutStick] | None:
    """Return sticks of that cost: the fewest, then those with the longest single left-over.

    None where nothing was found before the stop.
    """
    order = joined.order
    counted = _model(joined, columns, most_cost=cost, price_of_stick=1.0)
    outcome = solve(
        counted.program,
        stop=patience.look,
        time_limit_s=patience.seconds(),
        node_limit=NODES_AMONG_EQUALS,
    )
    if not outcome.values:
        return None
    sticks = round(outcome.objective)
    best = _dealt(joined, columns, counted, outcome.values)
    stocks = {stick.stock for stick in best} | {column[0] for column in columns}
    for stock in sorted(stocks, key=lambda i: -order.sticks[i].capacity):
        if order.sticks[stock].capacity <= _longest_rest(joined, best):
            continue
        model = _model(joined, columns, most_cost=cost, most_sticks=sticks, special=stock)
        outcome = solve(
            model.program,
            stop=patience.look,
            time_limit_s=patience.seconds(),
            node_limit=NODES_AMONG_EQUALS,
        )
        if outcome.values:
            other = _dealt(joined, columns, model, outcome.values)
            best = max(best, other, key=lambda sticks: _longest_rest(joined, sticks))
    return best


def rest(joined: JoinedOrder, stick: CutStick) -> int:
    """Return the left-over of a stick: what is not in pieces, less the kerf of its last cut."""
    used = sum(n * size for n, size in zip(stick.pieces, joined.order.sizes, strict=True))
    used += sum(length + joined.kerf for _, length in stick.parts)
    return max(joined.order.sticks[stick.stock].capacity - joined.kerf - used, 0)


def _longest_rest(joined: JoinedOrder, sticks: Sequence[CutStick]) -> int:
    return max(rest(joined, stick) for stick in sticks)


def _model(
    joined: JoinedOrder,
    columns: Sequence[Column],
    *,
    most_cost: int | None = None,
    most_sticks: int | None = None,
    price_of_stick: float | None = None,
    special: int | None = None,
) -> _Model:
    """Return the program: every piece cut, every wall as long as it is, least cost.

    ``price_of_stick`` replaces the prices in what is minimized; with ``special`` what is minimized
    is the part used of one more stick, of that stock.
    """
    order, model = joined.order, _Model()
    model.covered = [[] for _ in order.sizes]
    model.parts = [[] for _ in joined.walls]
    model.lengths = [[] for _ in joined.walls]
    for stock, pattern in columns:
        price = order.sticks[stock].price if price_of_stick is None else price_of_stick
        _add_column(joined, model, stock, pattern, 0.0 if special is not None else float(price))
    if special is not None:
        model.special = _add_special(joined, model, special)
    _require(joined, model)
    prices = [
        (c, float(order.sticks[s].price)) for c, (s, _) in zip(model.bought, columns, strict=True)
    ]
    spent = order.sticks[special].price if special is not None else 0
    if most_cost is not None:
        model.program.row(prices, upper=float(most_cost - spent))
    if most_sticks is not None:
        model.program.row([(c, 1.0) for c in model.bought], upper=float(most_sticks - 1))
    return model


def _add_column(
    joined: JoinedOrder, model: _Model, stock: int, pattern: Pattern, price: float
) -> None:
    """Add one way of cutting, with the lengths of its parts beside it."""
    order, program = joined.order, model.program
    column = program.column(price, whole=True)
    model.bought.append(column)
    kinds = len(order.sizes)
    for row, count in zip(model.covered, pattern[:kinds], strict=True):
        if count:
            row.append((column, float(count)))
    used = sum(n * size for n, size in zip(pattern[:kinds], order.sizes, strict=True))
    room = order.sticks[stock].capacity - used - joined.kerf * sum(pattern[kinds:])
    shares: list[tuple[int, float]] = []
    for wall, count in enumerate(pattern[kinds:]):
        if count:
            shares.append((_add_part(joined, model, wall, [(column, float(count))]), 1.0))
    if shares:
        program.row([*shares, (column, -float(room))], upper=0.0)


def _add_part(joined: JoinedOrder, model: _Model, wall: int, parts: Coefficients) -> int:
    """Add the length of a wall's parts on one column; return it."""
    length = model.program.column(0.0)
    model.parts[wall].extend(parts)
    model.lengths[wall].append((length, 1.0))
    shortest = [(c, -n * joined.least_part) for c, n in parts]
    longest = [(c, -n * joined.most_part) for c, n in parts]
    model.program.row([(length, 1.0), *shortest], lower=0.0)
    model.program.row([(length, 1.0), *longest], upper=0.0)
    return length


def _add_special(joined: JoinedOrder, model: _Model, stock: int) -> _Special:
    """Add one more stick, cut freely; what it uses is what is minimized."""
    order, program = joined.order, model.program
    used: list[tuple[int, float]] = []
    pieces: list[int] = []
    for row, size, most in zip(model.covered, order.sizes, order.counts, strict=True):
        column = program.column(float(size), upper=float(most), whole=True)
        row.append((column, 1.0))
        used.append((column, float(size)))
        pieces.append(column)
    counts: list[int] = []
    lengths: list[int] = []
    for wall, long_wall in enumerate(joined.walls):
        count = program.column(float(joined.kerf), upper=float(long_wall.parts), whole=True)
        length = _add_part(joined, model, wall, [(count, 1.0)])
        program.costs[length] = 1.0
        used += [(count, float(joined.kerf)), (length, 1.0)]
        counts.append(count)
        lengths.append(length)
    program.row(used, lower=1.0, upper=float(order.sticks[stock].capacity))
    return _Special(stock=stock, pieces=pieces, counts=counts, lengths=lengths)


def _require(joined: JoinedOrder, model: _Model) -> None:
    """Add the rows that ask for every piece and every wall."""
    for row, count in zip(model.covered, joined.order.counts, strict=True):
        model.program.row(row, lower=float(count))
    for wall, parts, lengths in zip(joined.walls, model.parts, model.lengths, strict=True):
        model.program.row(parts, lower=float(wall.parts), upper=float(wall.parts))
        model.program.row(lengths, lower=float(wall.length))


def _dealt(
    joined: JoinedOrder, columns: Sequence[Column], model: _Model, values: Sequence[float]
) -> list[CutStick]:
    """Return the sticks of a solution, parts dealt out, no piece more than is wanted."""
    kinds = len(joined.order.sizes)
    taken: list[Column] = []
    if model.special is not None:
        counted = [*model.special.pieces, *model.special.counts]
        taken.append((model.special.stock, tuple(round(values[c]) for c in counted)))
    for column, bought in zip(columns, model.bought, strict=True):
        taken += [column] * round(values[bought])
    left = list(joined.order.counts)
    kept: list[Column] = []
    for stock, pattern in taken:
        pieces = tuple(min(n, have) for n, have in zip(pattern[:kinds], left, strict=True))
        left = [have - n for have, n in zip(left, pieces, strict=True)]
        if any(pieces) or any(pattern[kinds:]):
            kept.append((stock, (*pieces, *pattern[kinds:])))
    return _parts_dealt(joined, kept)


def _parts_dealt(joined: JoinedOrder, taken: Sequence[Column]) -> list[CutStick]:
    """Give every part its length: a flow from sticks to walls, least from the first stick."""
    kinds, order, program = len(joined.order.sizes), joined.order, Program()
    shares: dict[tuple[int, int], int] = {}
    for k, (stock, pattern) in enumerate(taken):
        used = sum(n * size for n, size in zip(pattern[:kinds], order.sizes, strict=True))
        room = order.sticks[stock].capacity - used - joined.kerf * sum(pattern[kinds:])
        for wall, count in enumerate(pattern[kinds:]):
            if count:
                low, high = count * joined.least_part, count * joined.most_part
                cost = 1.0 if k == 0 else 0.0
                shares[k, wall] = program.column(cost, lower=float(low), upper=float(high))
        of_stick = [(c, 1.0) for (stick, _), c in shares.items() if stick == k]
        if of_stick:
            program.row(of_stick, upper=float(room))
    for wall, long_wall in enumerate(joined.walls):
        terms = [(c, 1.0) for (_, w), c in shares.items() if w == wall]
        program.row(terms, lower=float(long_wall.length), upper=float(long_wall.length))
    values = solve(program).values if shares else ()
    sticks: list[CutStick] = []
    for k, (stock, pattern) in enumerate(taken):
        parts: list[tuple[int, int]] = []
        for wall, count in enumerate(pattern[kinds:]):
            if count:
                parts += [(wall, n) for n in _shared(round(values[shares[k, wall]]), count)]
        sticks.append(CutStick(stock=stock, pieces=pattern[:kinds], parts=tuple(parts)))
    return sticks


def _shared(length: int, count: int) -> list[int]:
    """Return ``count`` whole lengths that sum to ``length``, as equal as can be."""
    return [length // count + (k < length % count) for k in range(count)]
