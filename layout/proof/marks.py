"""Marks along a board: what the pieces of a floor cover of them, at least.

    0    p1      p2         L      a *first piece* keeps its plank's right end: it covers the marks
    |----*-------*----------|      on it; a *last piece* keeps the left end and covers, besides
      last piece |k|  first        its own, what the saw takes after it

A line is cut into first piece, whole boards, last piece; the joints of one line stand at one
place modulo the board length. Lines of rows that touch keep their joints apart.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import accumulate, pairwise
from math import ceil

import numpy as np
from numpy.typing import NDArray

from layout.proof.lines import Line, Linked
from layout.values.tolerances import COVER_TOLERANCE, JOINT_TOLERANCE, PLACE_TOLERANCE

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]
_NEVER = 1 << 58


@dataclass(frozen=True, slots=True, kw_only=True)
class Marks:
    """Weights at places along a board, places rising from its left end; whole weights.

    ``length`` is the board's, ``kerf`` what the saw takes after a piece; ``before[i]`` is the
    weight of all places before the i-th.
    """

    length: float
    kerf: float
    places: tuple[float, ...]
    weights: tuple[int, ...]
    before: tuple[int, ...] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "before", tuple(accumulate(self.weights, initial=0)))

    @property
    def total(self) -> int:
        """The most that the pieces of one plank can cover."""
        return self.before[-1]

    def right(self, starter: float) -> int:
        """Return the least weight a first piece covers that keeps its plank's right end."""
        return self.total - self._before(self.length - starter + COVER_TOLERANCE)

    def left(self, ender: float) -> int:
        """Return the least weight a last piece covers that keeps its plank's left end."""
        return self._before(ender + self.kerf - COVER_TOLERANCE)

    def anywhere(self, length: float) -> int:
        """Return the least weight a piece covers that may be cut from any place of its plank."""
        last = self.length - length
        begins = [0.0, *(place + 2 * COVER_TOLERANCE for place in self.places if place < last)]
        return min(
            self._before(begin + length + self.kerf - COVER_TOLERANCE)
            - self._before(begin + COVER_TOLERANCE)
            for begin in begins
        )

    def _before(self, place: float) -> int:
        """Return the weight of all places before ``place``."""
        return self.before[bisect_left(self.places, place)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cells:
    """First joints of a line by what they cost: each stretch [low, high] has one weight.

    ``single`` is the weight of the line in one piece, None where it is too long for that.
    """

    low: Floats
    high: Floats
    weight: Wholes
    single: int | None

    def moved(self, left: float) -> Cells:
        """Return the cells of a line that begins at ``left`` instead of 0."""
        low, high = self.low + left, self.high + left
        return Cells(low=low, high=high, weight=self.weight, single=self.single)


def _cells_of(marks: Marks, line: Line) -> Cells:
    """Return what every first piece costs, places counted from the line's left end."""
    if line.length > marks.length and not any(first_pieces(line, marks.length)):
        line = line.any_ends()
    stretches: list[tuple[float, float, int]] = []
    for boards, shortest, longest in first_pieces(line, marks.length):
        ends = line.length - boards * marks.length
        steps = [marks.length - p for p in marks.places]
        steps += [ends + marks.kerf - p for p in marks.places]
        inner = sorted(step for step in steps if shortest < step < longest)
        for low, high in pairwise([shortest, *inner, longest]):
            if high - low >= PLACE_TOLERANCE or longest - shortest < PLACE_TOLERANCE:
                middle = (low + high) / 2
                weight = boards * marks.total + marks.right(middle) + marks.left(ends - middle)
                if (
                    stretches
                    and stretches[-1][2] == weight
                    and low - stretches[-1][1] < 2 * PLACE_TOLERANCE
                ):
                    low = stretches.pop()[0]
                stretches.append((low, high, weight))
    single = marks.anywhere(line.length) if line.length <= marks.length else None
    return Cells(
        low=np.array([low for low, _, _ in stretches]),
        high=np.array([high for _, high, _ in stretches]),
        weight=np.array([weight for _, _, weight in stretches], dtype=np.int64),
        single=single,
    )


def first_pieces(line: Line, length: float) -> Iterator[tuple[int, float, float]]:
    """Yield the whole boards between the ends, the shortest and the longest first piece."""
    boards = max(0, ceil(line.length / length) - 2)
    while boards * length <= line.length:
        ends = line.length - boards * length
        shortest = max(line.least_left, ends - length, 0.0)
        longest = min(length, ends - line.least_right)
        if shortest <= longest:
            yield boards, shortest, longest
        boards += 1


def least_weight_of_all(marks: Marks, lines: Linked, offset: float) -> int:
    """Return the least weight that the pieces of all lines cover.

    A line tied to one below touches it over more than a board and an offset, so that wherever
    their joints stand modulo the board length, some pair of them meets. The ties make trees: what
    a line and all tied to it from above cover is known for every place of its own joints first.
    """
    known: dict[tuple[float, ...], Cells] = {}
    nodes = [_Node.of(marks, line, known) for line, _ in lines]
    total = 0
    for node, (_, below) in zip(reversed(nodes), reversed(lines), strict=True):
        if below is None:
            total += node.least()
        else:
            nodes[below].bear(node, offset, marks.length)
    return total


@dataclass(slots=True)
class _Node:
    """A line with what it covers, together with the lines tied to it from above, at least.

    ``joints`` by the place of its joints, ``single`` in one piece; ``free`` is what the lines
    above come to if their joints may stand anywhere.
    """

    cells: Cells
    joints: Wholes
    single: int
    free: int = 0

    @classmethod
    def of(cls, marks: Marks, line: Line, known: dict[tuple[float, ...], Cells]) -> _Node:
        """Return the node of a line alone; ``known`` keeps cells by what they depend on."""
        key = _key(line)
        if key not in known:
            known[key] = _cells_of(marks, line)
        cells = known[key].moved(line.left)
        single = _NEVER if cells.single is None else cells.single
        return cls(cells=cells, joints=cells.weight, single=single)

    def least(self) -> int:
        """Return the least weight over all ways.

        Where no place keeps the offset from all lines above, the rule can't be kept there and
        says nothing.
        """
        least = min(int(self.joints.min(initial=_NEVER)), self.single)
        if least < _NEVER:
            return least
        return self.free + int(self.cells.weight.min())

    def bear(self, above: _Node, offset: float, length: float) -> None:
        """Add a line tied to this one from above."""
        least = above.least()
        kept = np.full(len(self.joints), above.single)
        if len(self.joints) and len(above.joints):
            may = apart(self.cells, above.cells, offset, length)
            nearest = np.where(may, above.joints[None, :], _NEVER).min(axis=1)
            kept = np.minimum(kept, nearest)
        if kept.min(initial=_NEVER) >= _NEVER:
            kept = np.full(len(self.joints), least)
        self.joints = np.minimum(self.joints + kept, _NEVER)
        self.single = min(self.single + least, _NEVER)
        self.free += least


def _key(line: Line) -> tuple[float, ...]:
    """Return what the weights of a line depend on, to far less than it was cut shorter."""
    return round(line.length, 9), round(line.least_left, 9), round(line.least_right, 9)


def apart(first: Cells, second: Cells, offset: float, length: float) -> NDArray[np.bool_]:
    """Tell for each pair of stretches whether some joints in them stand ``offset`` apart."""
    nearest = second.low[None, :] - first.high[:, None]
    farthest = second.high[None, :] - first.low[:, None]
    half = np.ceil((nearest - length / 2) / length) * length + length / 2 <= farthest
    most = np.maximum(_round(nearest, length), _round(farthest, length))
    may: NDArray[np.bool_] = half | (most >= offset - JOINT_TOLERANCE)
    return may


def _round(distance: Floats, length: float) -> Floats:
    """Return the distance of two joints round the board length."""
    around: Floats = np.abs((distance + length / 2) % length - length / 2)
    return around
