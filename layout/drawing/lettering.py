"""Where lettering may stand: what is taken on a sheet, and the best of several places for a word.

word                      a box that touches no other box, crosses no line, and rather
   \\                      stands outside the floor than in it, close to what it names
    *  what it names
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from shapely.affinity import rotate
from shapely.geometry import LineString, Polygon, box
from shapely.geometry import Point as ShapelyPoint

from layout.values.outline import Point

_PAD = 3.0  # free on both sides of a text
_HALF = 0.62  # half the height of a box, in sizes
_CROSSED, _INDOORS, _WAY = 20.0, 3.0, 1 / 40
_LEADERS = (30.0, 48.0, 70.0, 100.0, 140.0, 190.0, 250.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A place for a word: its middle height at a point, turned clockwise by degrees.

    ``leader`` is where a leader line begins, for a word that stands off.
    """

    at: Point
    anchor: str = "middle"
    turn: float = 0.0
    leader: Point | None = None


def lettering_width(text: str, size: float) -> float:
    """Return about how wide a text comes out."""
    narrow = sum(text.count(sign) for sign in " '\".,ilj1|")
    return size * (0.6 * (len(text) - narrow) + 0.33 * narrow)


def lettering_box(text: str, size: float, spot: Spot) -> Polygon:
    """Return the box of a text at a spot."""
    x, y = spot.at
    wide = lettering_width(text, size)
    left = {"start": x, "middle": x - wide / 2, "end": x - wide}[spot.anchor]
    plain = box(left - _PAD, y - size * _HALF, left + wide + _PAD, y + size * _HALF)
    return rotate(plain, spot.turn, origin=(x, y)) if spot.turn else plain


class Taken:
    """What is taken on a sheet: boxes of lettering, lines, and the floor."""

    def __init__(self, wide: float, tall: float) -> None:
        self._sheet = box(0, 0, wide, tall)
        self._boxes: list[Polygon] = []
        self._lines: list[LineString] = []
        self._floor = Polygon()

    def letter(self, text: str, size: float, spot: Spot) -> None:
        """Take the box of a text."""
        self._boxes.append(lettering_box(text, size, spot))

    def patch(self, x0: float, y0: float, x1: float, y1: float) -> None:
        """Take a level box."""
        self._boxes.append(box(x0, y0, x1, y1))

    def line(self, points: Sequence[Point]) -> None:
        """Take a line."""
        self._lines.append(LineString(points))

    def floor(self, ring: Iterable[Point]) -> None:
        """Say where the floor lies and its walls run."""
        self._floor = Polygon(ring).buffer(0)

    def free(self, place: Point, reach: float) -> bool:
        """Whether no box reaches so near to a point."""
        wanted = box(place[0] - reach, place[1] - reach, place[0] + reach, place[1] + reach)
        return not any(wanted.intersects(other) for other in self._boxes)

    def indoors(self, points: Sequence[Point]) -> bool:
        """Whether a line touches the floor."""
        return bool(self._floor.intersects(LineString(points)))

    def best(
        self, text: str, size: float, spots: Iterable[Spot], most: float = math.inf
    ) -> Spot | None:
        """Return the spot where a text stands best, None where none is free.

        A spot costs 20 for every line its text crosses, 3 on the floor, 1 for every 40 units of
        its leader; those that cost ``most`` are not taken.
        """
        ranked = [
            (cost + i / 1000, i, spot)
            for i, spot in enumerate(spots)
            if (cost := self._cost(lettering_box(text, size, spot), spot)) < most
        ]
        return min(ranked)[2] if ranked else None

    def _cost(self, wanted: Polygon, spot: Spot) -> float:
        """Return how badly a box stands, infinite where it may not."""
        if not self._sheet.contains(wanted):
            return math.inf
        if any(wanted.intersects(other) for other in self._boxes):
            return math.inf
        drawn = LineString([spot.leader, spot.at]) if spot.leader else None
        if drawn and any(_runs_into(drawn, other) for other in self._boxes):
            return math.inf
        lines = [*self._lines, self._floor.boundary]
        cost: float = _CROSSED * sum(wanted.intersects(line) for line in lines)
        cost += _INDOORS * self._floor.intersects(wanted)
        return cost + (float(drawn.length) * _WAY if drawn else 0.0)


def _runs_into(leader: LineString, other: Polygon) -> bool:
    """Whether a leader line crosses a box that it does not begin in."""
    return bool(leader.intersects(other)) and not other.contains(ShapelyPoint(leader.coords[0]))


def spots_around(point: Point, *, first: float = -45.0) -> Iterator[Spot]:
    """Yield spots at leaders of growing length all around a point, the way ``first`` before all.

    ``first`` is in degrees clockwise from the right of the sheet.
    """
    for length in _LEADERS:
        for off in (0, 45, -45, 22, -22, 68, -68, 90, -90, 135, -135, 180):
            way = math.radians(first + off)
            dx, dy = math.cos(way), math.sin(way)
            at = (point[0] + dx * length, point[1] + dy * length)
            anchor = "start" if dx > 0.3 else "end" if dx < -0.3 else "middle"
            aside = {"start": 4.0, "end": -4.0, "middle": 0.0}[anchor]
            below = math.copysign(9.0, dy) if anchor == "middle" else 0.0
            yield Spot(at=(at[0] + aside, at[1] + below), anchor=anchor, leader=point)


def spots_along(a: Point, b: Point, off: float) -> Iterator[Spot]:
    """Yield spots along a line, ``off`` to its right as seen from ``a`` to ``b``, readable."""
    length = math.dist(a, b)
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    turn = math.degrees(math.atan2(uy, ux))
    turn = turn if -90 < turn <= 90 else turn - math.copysign(180, turn)
    for share in (0.5, 0.35, 0.65, 0.2, 0.8):
        x, y = a[0] + ux * length * share, a[1] + uy * length * share
        yield Spot(at=(x - uy * off, y + ux * off), turn=turn)
