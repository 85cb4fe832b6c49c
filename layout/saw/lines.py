"""Lines of cuts: which way what goes lies, where the line runs, and what a part has beyond it.

      path at 20                a *way* is a unit vector to the side that goes; a line lies
+--------+-+---------+          ``at`` so far that way, in the plank's own coordinates. What
| stays  |k|  goes   |          stays lies at or below it, what goes begins a kerf beyond it.
+--------+-+---------+
0       20                      parts are rings of corners, not closed
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot

from layout.values.outline import Point
from layout.values.tolerances import OVERLAP_TOLERANCE

Corners = tuple[Point, ...]
Way = tuple[float, float]

RIGHT, LEFT, HIGH, LOW = (1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)
AXES: dict[Way, str] = {RIGHT: "right", LEFT: "left", HIGH: "high", LOW: "low"}


@dataclass(frozen=True, slots=True, kw_only=True)
class SawLine:
    """A straight cut: the way to what goes, and how far that way its path runs."""

    way: Way
    at: float

    @property
    def kind(self) -> str:
        """crosscut, rip or angle."""
        if self.way in (RIGHT, LEFT):
            return "crosscut"
        return "rip" if self.way in (HIGH, LOW) else "angle"

    @property
    def goes(self) -> str:
        """The side of the path on which what goes lies."""
        x, y = self.way
        if abs(x) >= abs(y):
            return "right" if x > 0 else "left"
        return "high" if y > 0 else "low"


def reach(corners: Sequence[Point], way: Way) -> float:
    """Return how far corners reach that way."""
    x, y = way
    return max(x * a + y * b for a, b in corners)


def back(way: Way) -> Way:
    """Return the opposite way; one along an axis is again one of the four."""
    x, y = way
    return (0.0 - x, 0.0 - y)


def clipped(corners: Corners, line: SawLine) -> Corners:
    """Return the part of a ring at or below a line."""
    x, y = line.way
    kept: list[Point] = []
    depths = [x * a + y * b - line.at for a, b in corners]
    both = [*zip(corners, depths, strict=True)]
    for (p, deep), (q, next_deep) in pairwise([*both, both[0]]):
        if deep <= 0:
            kept.append(p)
        if (deep < 0 < next_deep) or (next_deep < 0 < deep):
            share = deep / (deep - next_deep)
            kept.append((p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])))
    return tuple(kept)


def beyond(corners: Corners, line: SawLine, kerf: float) -> Corners:
    """Return the part of a ring a kerf beyond a line."""
    return clipped(corners, SawLine(way=back(line.way), at=-(line.at + kerf)))


def crossing(corners: Sequence[Point], line: SawLine) -> tuple[Point, Point] | None:
    """Return the first and the last point at which a line crosses a ring, left or low first."""
    x, y = line.way
    met: list[Point] = []
    for p, q in pairwise([*corners, corners[0]]):
        one, two = (x * a + y * b - line.at for a, b in (p, q))
        if one == 0:
            met.append(p)
        if one * two < 0:
            share = one / (one - two)
            met.append((p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])))
    if len(met) < 2:
        return None
    met.sort(key=lambda point: point[1] if line.kind == "crosscut" else point[0])
    return met[0], met[-1]


def way_out(p: Point, q: Point, near: float) -> Way | None:
    """Return the way out of a ring, wound left, over its edge from ``p`` to ``q``.

    An edge that leans by less than ``near`` runs along an axis; None of one so short all over,
    which nobody cuts.
    """
    dx, dy = q[0] - p[0], q[1] - p[1]
    length = hypot(dx, dy)
    if max(abs(dx), abs(dy)) <= near:
        return None
    if abs(dx) <= near and abs(dy) > near:
        return RIGHT if dy > 0 else LEFT
    if abs(dy) <= near and abs(dx) > near:
        return LOW if dx > 0 else HIGH
    return (dy / length, -dx / length)


def is_convex(corners: Corners) -> bool:
    """Whether a ring turns one way only."""
    hands = set()
    for i, (x, y) in enumerate(corners):
        (u, v), (a, b) = corners[i - 2], corners[i - 1]
        turn = (a - u) * (y - b) - (b - v) * (x - a)
        if abs(turn) > OVERLAP_TOLERANCE:
            hands.add(turn > 0)
    return len(hands) < 2
