"""Packing at once: orders too large or too hurried to look at all ways of cutting.

Best fit decreasing: the longest piece first, each into the fullest stick that holds it; every stick
is then bought as short as its pieces allow. The bound is by length, and by the exact bound of a
coarser order whose sizes are all taken shorter (D. S. Johnson's analysis of best fit, 1974, and
M. Valerio de Carvalho's survey of bounds, 2002, from memory).
"""

from __future__ import annotations

from bisect import bisect_left, insort
from collections import Counter
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from fractions import Fraction

from layout.trim.long_walls import JoinedOrder, LongWall
from layout.trim.order import CutOrder, Stick, cheapest_for, next_cost
from layout.trim.patience import OutOfTimeError, Patience
from layout.trim.stock import bound_by_prices

Item = tuple[int | None, int]  # the wall that it is a part of, if any; its size, kerf included
COARSE = 128  # steps that the longest stick has in the coarser order


@dataclass(frozen=True, slots=True, kw_only=True)
class PackedStick:
    """One stick bought: its stock, what is cut from it, and what room is left, a kerf included."""

    stock: int
    items: tuple[Item, ...]
    room: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Packed:
    """Sticks, what they cost, and what nothing can cost less than."""

    sticks: tuple[PackedStick, ...]
    cost: int
    bound: int


def packed_at_once(joined: JoinedOrder, patience: Patience) -> Packed:
    """Return the cheapest packing over the sticks to begin with, walls in parts fixed ahead."""
    order, best = joined.order, None
    for split in (greedy_parts, equal_parts):
        items = _items(joined, [split(joined, wall) for wall in joined.walls])
        longest = items[0][1]
        for stick in order.sticks:
            if stick.capacity >= longest and (best is None or not patience.over()):
                sticks = _best_fit(order, items, stick.capacity)
                cost = sum(order.sticks[one.stock].price for one in sticks)
                if best is None or cost < best[0]:
                    best = cost, sticks
        if not joined.walls:
            break
    if best is None:
        raise OutOfTimeError
    cost, sticks = best
    bound = bound_by_length(joined)
    if bound < cost:
        with suppress(OutOfTimeError):
            bound = max(bound, _bound_of_coarser(joined, patience))
    return Packed(sticks=tuple(sticks), cost=cost, bound=min(bound, cost))


def bound_by_length(joined: JoinedOrder) -> int:
    """Return what nothing can cost less than, by all lengths at the cheapest price."""
    rate = min(Fraction(stick.price, stick.capacity) for stick in joined.order.sticks)
    sizes = sum(n * size for n, size in zip(joined.order.counts, joined.order.sizes, strict=True))
    sizes += sum(wall.length + joined.kerf * wall.parts for wall in joined.walls)
    return next_cost(rate * sizes, joined.order.sticks)


def greedy_parts(joined: JoinedOrder, wall: LongWall) -> list[int]:
    """Return parts as long as they may be, the last two no shorter than a part must be."""
    parts: list[int] = []
    left = wall.length
    for behind in range(wall.parts - 1, -1, -1):
        part = min(joined.most_part, left - behind * joined.least_part)
        parts.append(part)
        left -= part
    return parts


def equal_parts(_: JoinedOrder, wall: LongWall) -> list[int]:
    """Return equal parts."""
    whole, more = divmod(wall.length, wall.parts)
    return [whole + (k < more) for k in range(wall.parts)]


def _items(joined: JoinedOrder, parts: Sequence[Sequence[int]]) -> list[Item]:
    """Return all that is to be cut, the longest first."""
    items: list[Item] = [
        (wall, part + joined.kerf) for wall, of_wall in enumerate(parts) for part in of_wall
    ]
    for size, count in zip(joined.order.sizes, joined.order.counts, strict=True):
        items += [(None, size)] * count
    return sorted(items, key=lambda item: -item[1])


def _best_fit(order: CutOrder, items: Sequence[Item], capacity: int) -> list[PackedStick]:
    """Return sticks filled best fit decreasing, each then as cheap as holds its pieces."""
    rooms: list[tuple[int, int]] = []  # what is left of a stick, and its place; rising
    sticks: list[list[Item]] = []
    for item in items:
        at = bisect_left(rooms, (item[1], 0))
        if at < len(rooms):
            room, place = rooms.pop(at)
        else:
            room, place = capacity, len(sticks)
            sticks.append([])
        sticks[place].append(item)
        insort(rooms, (room - item[1], place))
    bought = []
    for of_stick in sticks:
        used = sum(size for _, size in of_stick)
        stock = cheapest_for(order, used)
        room = order.sticks[stock].capacity - used
        bought.append(PackedStick(stock=stock, items=tuple(of_stick), room=room))
    return sorted(bought, key=lambda stick: (stick.stock, stick.room))


def _bound_of_coarser(joined: JoinedOrder, patience: Patience) -> int:
    """Return the bound of an order whose sizes and sticks are counted in coarse steps.

    Sizes rounded down to whole steps fill a stick rounded down no more than the true ones do:
    a pattern that fits stays one that fits. Parts of walls of free length are left out.
    """
    order = joined.order
    step = -(-max(stick.capacity for stick in order.sticks) // COARSE)
    counts: Counter[int] = Counter()
    for size, count in zip(order.sizes, order.counts, strict=True):
        counts[size // step] += count
    counts.pop(0, None)
    if not counts:
        return 0
    sizes = tuple(sorted(counts, reverse=True))
    sticks = tuple(Stick(capacity=s.capacity // step, price=s.price) for s in order.sticks)
    coarser = CutOrder(sizes=sizes, counts=tuple(counts[size] for size in sizes), sticks=sticks)
    return next_cost(bound_by_prices(coarser, patience), order.sticks)
