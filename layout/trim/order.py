"""What is to be cut and from which sticks, in whole numbers; sums of prices."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, gcd

from layout.solver import Program
from layout.trim.patterns import Pattern

MOST_SUMS = 1 << 25  # sums of prices that are listed, at most


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


def cheapest_stick(order: CutOrder, pattern: Pattern) -> int:
    """Return the index of the cheapest stick that holds ``pattern``, the longest of equals."""
    return cheapest_for(order, sum(n * size for n, size in zip(pattern, order.sizes, strict=True)))


def cheapest_for(order: CutOrder, used: int) -> int:
    """Return the index of the cheapest stick that holds so much, the longest of equals."""
    holding = [i for i, stick in enumerate(order.sticks) if stick.capacity >= used]
    return min(holding, key=lambda i: (order.sticks[i].price, -order.sticks[i].capacity))


def next_cost(least: Fraction, sticks: Sequence[Stick]) -> int:
    """Return the smallest sum of stick prices that is at least ``least``.

    Where the sums are too many to list, the least multiple of what all prices share.
    """
    share = gcd(*(stick.price for stick in sticks))
    floor = max(ceil(least / share), 0)
    prices = [stick.price // share for stick in sticks]
    size = floor + max(prices) + 1
    if size > MOST_SUMS:
        return floor * share
    mask = (1 << size) - 1
    reachable = 1
    for price in prices:
        step = price
        while step < size:
            reachable |= (reachable << step) & mask
            step *= 2
    above = reachable >> floor
    return (floor + (above & -above).bit_length() - 1) * share


def least_by_length(order: CutOrder) -> int:
    """Return what nothing can cost less than, by length alone at the cheapest price."""
    rate = min(Fraction(stick.price, stick.capacity) for stick in order.sticks)
    length = sum(n * size for n, size in zip(order.counts, order.sizes, strict=True))
    return next_cost(rate * length, order.sticks)


def cover(order: CutOrder, columns: Sequence[Column], most_cost: int | None) -> Program:
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


def chosen(order: CutOrder, columns: Sequence[Column], values: Sequence[float]) -> list[Column]:
    """Return one column for every stick of a solution, without more pieces than are wanted."""
    left = list(order.counts)
    taken: list[Column] = []
    for (stick, pattern), value in zip(columns, values, strict=True):
        for _ in range(round(value)):
            kept = tuple(min(n, have) for n, have in zip(pattern, left, strict=True))
            left = [have - n for have, n in zip(left, kept, strict=True)]
            if any(kept):
                taken.append((stick, kept))
    return taken
