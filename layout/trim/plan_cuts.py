"""Trim from stock lengths: base, shoe, quarter round cut at least cost, proven.

A stick of length S holds pieces while their lengths and one kerf between neighbors fit; the last
cut takes its kerf from the left-over. A wall longer than any length that may go up without a joint
is joined from the fewest parts, none shorter than ``min_joint_piece``. Lengths are taken to a
millionth of the unit.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache, reduce
from math import gcd

from layout.solver import Stop
from layout.trim.form import CutList, TrimCut, TrimPiece, TrimRequest, TrimStick
from layout.trim.long_walls import (
    CutStick,
    JoinedOrder,
    LongWall,
    best_of_equals,
    every_column,
    least_cost,
    rest,
)
from layout.trim.order import Column, CutOrder, Stick, next_cost
from layout.trim.packing import (
    Packed,
    bound_by_length,
    equal_parts,
    greedy_parts,
    packed_at_once,
)
from layout.trim.patience import OutOfTimeError, Patience
from layout.trim.patterns import TooManyError
from layout.trim.stock import StockCutting, cut
from layout.values.errors import Described, InputError
from layout.values.tolerances import BOUND_TOLERANCE

MILLIONTHS = 1_000_000
MOST_SIZES = 200  # sizes that are looked at together; an order of more is packed at once
MOST_COUNTS = 800_000  # sizes times pieces likewise
MOST_WALLS = 500  # walls likewise


@dataclass(frozen=True, slots=True, kw_only=True)
class _Scaled:
    """The request in whole numbers.

    A length of 1 is ``grain`` millionths of the unit, a price of 1 is ``10**-places``. ``owners``
    has the ids of the pieces of each size, one entry a piece; ``wall_ids`` those of the walls.
    """

    joined: JoinedOrder
    grain: int
    places: int
    owners: tuple[tuple[str, ...], ...]
    wall_ids: tuple[str, ...]


def plan_cuts(
    request: TrimRequest,
    *,
    stop: Stop | None = None,
    looks: int | None = None,
    left: Callable[[], float] | None = None,
) -> CutList:
    """Return sticks and cuts: least cost, then fewest sticks, then the longest single left-over.

    Stopped early, or with its ``looks`` spent (the same every time), it returns the best found with
    its proven bound; ``left`` tells the seconds that are left, where a clock counts. An order of
    more sizes than can be looked at together is packed at once (``layout.trim.packing``).
    Raises InputError where a piece can't be cut or joined from the stock.
    """
    scaled, patience = _scaled(request), Patience(stop, looks, left)
    try:
        if _looked_at_together(scaled.joined):
            sticks, bound = _planned(scaled.joined, patience)
            return _named(request, scaled, sticks, bound)
    except OutOfTimeError:
        pass
    packed = packed_at_once(scaled.joined, patience)
    named = _with_names(request, scaled, packed)
    return _cut_list(scaled, named, packed.cost, packed.bound)


def _looked_at_together(joined: JoinedOrder) -> bool:
    """Whether all ways of cutting an order may be looked at together."""
    kinds, pieces = len(joined.order.sizes), sum(joined.order.counts)
    return kinds <= MOST_SIZES and kinds * pieces <= MOST_COUNTS and len(joined.walls) <= MOST_WALLS


def _planned(joined: JoinedOrder, patience: Patience) -> tuple[list[CutStick], int]:
    """Return the sticks and the proven bound of their cost."""
    if not joined.walls:
        cutting = cut(joined.order, patience=patience)
        return _among_equals(joined, cutting, patience), cutting.bound
    try:
        columns = every_column(joined, patience)
    except TooManyError:
        return _split_ahead(joined, patience)
    patience.check()
    sticks, proven = least_cost(joined, columns, patience)
    if not sticks:
        return _split_ahead(joined, patience)
    cost = sum(joined.order.sticks[stick.stock].price for stick in sticks)
    bound = next_cost(Fraction(max(proven - BOUND_TOLERANCE, 0.0)), joined.order.sticks)
    return best_of_equals(joined, columns, cost, patience) or sticks, min(bound, cost)


def _among_equals(joined: JoinedOrder, cutting: StockCutting, patience: Patience) -> list[CutStick]:
    """Return the fewest sticks at the cost of ``cutting``, with the longest left-over."""
    plain = [CutStick(stock=stock, pieces=pattern) for stock, pattern in cutting.columns]
    if patience.look():
        return plain
    chosen = best_of_equals(joined, cutting.known, cutting.cost, patience)
    if chosen is None or len(chosen) > len(plain):
        return plain
    return chosen


def _split_ahead(joined: JoinedOrder, patience: Patience) -> tuple[list[CutStick], int]:
    """Return a plan with the joints fixed beforehand, and a bound by length alone.

    For orders with more ways to cut than can be listed.
    """
    tries: list[tuple[StockCutting, list[CutStick]]] = []
    for split in (greedy_parts, equal_parts):
        parts = [split(joined, wall) for wall in joined.walls]
        order = _with_parts(joined, parts)
        cutting = cut(order, patience=patience)
        tries.append((cutting, _with_walls(joined, order, parts, cutting.columns)))
    cutting, sticks = min(tries, key=lambda pair: pair[0].cost)
    return sticks, min(bound_by_length(joined), cutting.cost)


def _with_parts(joined: JoinedOrder, parts: Sequence[Sequence[int]]) -> CutOrder:
    """Return the order with the parts of every wall among its pieces."""
    counts = dict(zip(joined.order.sizes, joined.order.counts, strict=True))
    for part in (part for of_wall in parts for part in of_wall):
        size = part + joined.kerf
        counts[size] = counts.get(size, 0) + 1
    sizes = tuple(sorted(counts, reverse=True))
    return CutOrder(sizes=sizes, counts=tuple(counts[s] for s in sizes), sticks=joined.order.sticks)


def _with_walls(
    joined: JoinedOrder, order: CutOrder, parts: Sequence[Sequence[int]], columns: Sequence[Column]
) -> list[CutStick]:
    """Return sticks that say again which pieces are parts of which wall."""
    fixed = dict(zip(joined.order.sizes, joined.order.counts, strict=True))
    waiting = [(part, wall) for wall, of_wall in enumerate(parts) for part in of_wall]
    sticks: list[CutStick] = []
    for stock, pattern in columns:
        pieces = dict.fromkeys(joined.order.sizes, 0)
        parts_of_walls: list[tuple[int, int]] = []
        for size in (size for size, n in zip(order.sizes, pattern, strict=True) for _ in range(n)):
            if fixed.get(size, 0) > 0:
                fixed[size] -= 1
                pieces[size] += 1
            else:
                index = next(i for i, (part, _) in enumerate(waiting) if part + joined.kerf == size)
                part, wall = waiting.pop(index)
                parts_of_walls.append((wall, part))
        sticks.append(
            CutStick(stock=stock, pieces=tuple(pieces.values()), parts=tuple(parts_of_walls))
        )
    return sticks


def _scaled(request: TrimRequest) -> _Scaled:
    """Return the request in whole numbers. Raises InputError."""
    longest = max(stock.length for stock in request.stock)
    most_part = min(request.longest_without_joint or longest, longest)
    fixed: dict[int, list[str]] = {}
    walls: list[tuple[str, LongWall]] = []
    for where, piece in enumerate(request.pieces):
        length = _with_ends(request, piece)
        if length <= _millionths(most_part):
            fixed.setdefault(length, []).extend([piece.id] * piece.count)
        else:
            wall = _long_wall(request, f"pieces[{where}].length", length, most_part)
            walls += [(piece.id, wall)] * piece.count
    return _in_grains(request, fixed, walls, most_part)


@lru_cache(maxsize=4096)
def _millionths(length: float) -> int:
    """Return a length in millionths of the unit."""
    return round(Fraction(repr(length)) * MILLIONTHS)


def _with_ends(request: TrimRequest, piece: TrimPiece) -> int:
    """Return the length to cut: the wall and what its ends add, in millionths."""
    added = sum(_millionths(request.end_allowance.get(end, 0.0)) for end in piece.ends)
    return max(_millionths(piece.length) + added, 1)


def _long_wall(request: TrimRequest, where: str, length: int, most_part: float) -> LongWall:
    """Return a wall as its fewest parts. Raises InputError where they would be too short."""
    most, shown = _millionths(most_part), length / MILLIONTHS
    if request.min_joint_piece is None:
        value = Described(f"missing, and {where} is {shown:g} with its ends")
        raise InputError("min_joint_piece", value, f"a length of at most {most_part:g}")
    parts = -(-length // most)
    least = _millionths(request.min_joint_piece)
    if least * parts > length or least > most:
        value = Described(f"{shown:g} would need {parts} parts of at most {most_part:g}")
        accepted = f"a length that parts of {request.min_joint_piece:g} to {most_part:g} can make"
        raise InputError(where, value, accepted)
    return LongWall(length=length, parts=parts)


def _in_grains(
    request: TrimRequest,
    fixed: dict[int, list[str]],
    walls: list[tuple[str, LongWall]],
    most_part: float,
) -> _Scaled:
    """Return the order in the coarsest whole numbers that say it exactly."""
    kerf, most = _millionths(request.saw_kerf), _millionths(most_part)
    least = _millionths(request.min_joint_piece or 0.0)
    stocks = [_millionths(stock.length) for stock in request.stock]
    grain = reduce(gcd, [kerf, most, least, *stocks, *fixed, *(w.length for _, w in walls)])
    places = max(max(-int(s.price.as_tuple().exponent), 0) for s in request.stock)
    lengths = sorted(fixed, reverse=True)
    sticks = tuple(
        Stick(capacity=(length + kerf) // grain, price=int(stock.price.scaleb(places)))
        for length, stock in zip(stocks, request.stock, strict=True)
    )
    order = CutOrder(
        sizes=tuple((length + kerf) // grain for length in lengths),
        counts=tuple(len(fixed[length]) for length in lengths),
        sticks=sticks,
    )
    joined = JoinedOrder(
        order=order,
        walls=tuple(LongWall(length=wall.length // grain, parts=wall.parts) for _, wall in walls),
        kerf=kerf // grain,
        least_part=least // grain,
        most_part=most // grain,
    )
    return _Scaled(
        joined=joined,
        grain=grain,
        places=places,
        owners=tuple(tuple(fixed[length]) for length in lengths),
        wall_ids=tuple(name for name, _ in walls),
    )


def _named(
    request: TrimRequest, scaled: _Scaled, sticks: Sequence[CutStick], bound: int
) -> CutList:
    """Return the cut list in the request's own names and unit."""
    joined = scaled.joined
    waiting = [list(reversed(ids)) for ids in scaled.owners]
    placed = [0] * len(joined.walls)
    named: list[TrimStick] = []
    for stick in sorted(sticks, key=lambda s: (s.stock, rest(joined, s))):
        cuts: list[TrimCut] = []
        for wall, part in stick.parts:
            placed[wall] += 1
            name, of = scaled.wall_ids[wall], joined.walls[wall].parts
            length = _length(scaled, part)
            cuts.append(TrimCut(id=name, length=length, part=placed[wall], parts=of))
        for ids, size, count in zip(waiting, joined.order.sizes, stick.pieces, strict=True):
            length = _length(scaled, size - joined.kerf)
            cuts += [TrimCut(id=ids.pop(), length=length) for _ in range(count)]
        left_over = _length(scaled, rest(joined, stick))
        stock = request.stock[stick.stock]
        named.append(TrimStick(stock=stock.id, cuts=tuple(cuts), left_over=left_over))
    cost = sum(joined.order.sticks[stick.stock].price for stick in sticks)
    return _cut_list(scaled, named, cost, bound)


def _with_names(request: TrimRequest, scaled: _Scaled, packed: Packed) -> list[TrimStick]:
    """Return sticks packed at once in the request's own names and unit."""
    joined, kerf = scaled.joined, scaled.joined.kerf
    waiting = {
        size: list(reversed(ids))
        for size, ids in zip(joined.order.sizes, scaled.owners, strict=True)
    }
    placed = [0] * len(joined.walls)
    named: list[TrimStick] = []
    for stick in packed.sticks:
        cuts: list[TrimCut] = []
        for wall, size in stick.items:
            length = _length(scaled, size - kerf)
            if wall is None:
                cuts.append(TrimCut(id=waiting[size].pop(), length=length))
            else:
                placed[wall] += 1
                name, parts = scaled.wall_ids[wall], joined.walls[wall].parts
                cuts.append(TrimCut(id=name, length=length, part=placed[wall], parts=parts))
        stock = request.stock[stick.stock]
        left_over = _length(scaled, max(stick.room - kerf, 0))
        named.append(TrimStick(stock=stock.id, cuts=tuple(cuts), left_over=left_over))
    return named


def _cut_list(scaled: _Scaled, sticks: Sequence[TrimStick], cost: int, bound: int) -> CutList:
    """Return sticks with what they cost, in the currency's unit."""
    return CutList(
        sticks=tuple(sticks),
        cost=_money(cost, scaled.places),
        lower_bound_cost=_money(bound, scaled.places),
    )


def _length(scaled: _Scaled, grains: int) -> float:
    """Return whole numbers as a length in the request's unit."""
    return grains * scaled.grain / MILLIONTHS


def _money(amount: int, places: int) -> Decimal:
    """Return an amount in the currency's unit, with two decimal places or more."""
    return Decimal(amount).scaleb(-places) + Decimal("0.00")
