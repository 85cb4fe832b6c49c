"""Which pieces can't be tilted in: those that end under something at both ends, or lie under it.

A piece is joined to the row before it at its low side, its high side raised. What overhangs the
high side (a toe kick, a cased opening along the last row) or both ends (two casings) is in the
way of that. One cased end is not: the piece slides lengthwise under it. Row 1 is joined off the
wall and slid back, so nothing traps it. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shapely.geometry import LineString, Polygon

from layout.assembly import Slot
from layout.outline import LENGTH_TOLERANCE, EdgeKind, Point, edges_of
from layout.request import INCH, PlanRequest
from layout.rows import Frame

_OVERHANGS = frozenset({EdgeKind.CASING, EdgeKind.TOE_KICK})
_LEAST = 0.5  # inches of a side that something must overhang


@dataclass(frozen=True, slots=True, kw_only=True)
class _Overhang:
    """An edge of the zone in the working frame that the floor runs under, and the floor near it."""

    a: Point
    b: Point
    near: Polygon

    @property
    def level(self) -> bool:
        """Whether it runs along the rows."""
        return abs(self.b[0] - self.a[0]) > abs(self.b[1] - self.a[1])

    def over(self, shape: Polygon) -> float:
        """Return how much of the outline of a piece lies under it, along it."""
        if not shape.intersects(self.near):
            return 0.0
        x0, y0, x1, y1 = shape.intersection(self.near).bounds
        return float(x1 - x0 if self.level else y1 - y0)


def trapped_shapes(request: PlanRequest, frame: Frame, slots: Sequence[Slot]) -> list[bool]:
    """Return for every shape of every slot, in order, whether it is trapped."""
    overhangs = list(_overhangs(request, frame))
    least = _LEAST * INCH[request.unit]
    return [
        bool(overhangs) and slot.row > 1 and _trapped(shape, overhangs, least)
        for slot in slots
        for shape in slot.shapes
    ]


def _overhangs(request: PlanRequest, frame: Frame) -> Iterator[_Overhang]:
    """Yield the edges that the floor runs under."""
    near = 4 * LENGTH_TOLERANCE[request.unit]
    points = frame.inward(request.zone.outline)
    for index, (a, b) in enumerate(edges_of(points)):
        edge = request.zone.edges.get(index)
        if edge is not None and edge.kind in _OVERHANGS:
            gap = request.rules.expansion_gap if edge.gap is None else edge.gap
            strip = LineString([a, b]).buffer(gap + near, cap_style="flat")
            yield _Overhang(a=a, b=b, near=strip)


def _trapped(shape: Polygon, overhangs: Sequence[_Overhang], least: float) -> bool:
    """Whether something overhangs the high side of a piece, or both its ends."""
    sides = {_side(shape, overhang) for overhang in overhangs if overhang.over(shape) > least}
    return "high" in sides or {"left", "right"} <= sides


def _side(shape: Polygon, overhang: _Overhang) -> str:
    """Return the side of a piece that an overhang lies at."""
    x, y = (overhang.a[0] + overhang.b[0]) / 2, (overhang.a[1] + overhang.b[1]) / 2
    x0, y0, x1, y1 = shape.bounds
    if overhang.level:
        return "high" if y > (y0 + y1) / 2 else "low"
    return "right" if x > (x0 + x1) / 2 else "left"
