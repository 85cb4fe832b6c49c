"""Slivers: strips too narrow to lay.

A *sliver* is a strip narrower than the rule over more than 2 in (50 mm) of length. A *tip*, where
a wall cuts off a row at a slant, is the wall's own shape and no sliver.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import radians, tan

from shapely.geometry import Polygon

from layout.values.outline import Point
from layout.values.tolerances import (
    RATIO_TOLERANCE,
    RUN_TOLERANCE_SHARE,
    STRETCH_TOLERANCE,
    TOUCHING_TOLERANCE,
)

TIP_DEG = 15.0  # a wall further off the rows makes tips, no slivers; common practice, no source


@dataclass(frozen=True, slots=True, kw_only=True)
class Sliver:
    """A stretch of a run where it is narrower than the rule; ``width`` is its narrowest strip."""

    x0: float
    x1: float
    width: float


@dataclass(frozen=True, slots=True)
class _Slab:
    """A chord across the row between neighboring corners: its foot and head at both ends."""

    x0: float
    x1: float
    low0: float
    low1: float
    high0: float
    high1: float

    @property
    def tip(self) -> bool:
        """Whether a wall that cuts the row at a slant bounds it."""
        steep = tan(radians(TIP_DEG)) * (self.x1 - self.x0) * (1 + RATIO_TOLERANCE)
        return max(abs(self.low1 - self.low0), abs(self.high1 - self.high0)) > steep

    def thinned(self, limit: float) -> _Slab | None:
        """Return the part of the slab narrower than ``limit``, None where there is none."""
        at0, at1 = self.high0 - self.low0, self.high1 - self.low1
        if min(at0, at1) >= limit:
            return None
        start = (at0 - limit) / (at0 - at1) if at0 > limit else 0.0
        stop = (limit - at0) / (at1 - at0) if at1 > limit else 1.0
        return self._between(start, stop)

    def _between(self, start: float, stop: float) -> _Slab:
        """Return the part of the slab between two shares of its length."""

        def at(a: float, b: float, t: float) -> float:
            return a + (b - a) * t

        return _Slab(
            at(self.x0, self.x1, start),
            at(self.x0, self.x1, stop),
            at(self.low0, self.low1, start),
            at(self.low0, self.low1, stop),
            at(self.high0, self.high1, start),
            at(self.high0, self.high1, stop),
        )

    def meets(self, after: _Slab) -> bool:
        """Whether ``after`` goes on where this slab ends."""
        if abs(self.x1 - after.x0) > STRETCH_TOLERANCE:
            return False
        return (
            self.low1 <= after.high0 + STRETCH_TOLERANCE
            and after.low0 <= self.high1 + STRETCH_TOLERANCE
        )


def slivers(shape: Polygon, limit: float, least_run: float) -> tuple[Sliver, ...]:
    """Return where ``shape`` is narrower across the row than ``limit`` over ``least_run``."""
    rough = least_run * RUN_TOLERANCE_SHARE
    slabs = (slab for slab in _slabs(shape) if not slab.tip)
    thin = [t for slab in slabs if (t := slab.thinned(limit - rough)) is not None]
    narrow = []
    for stretch in _stretches([t for t in thin if t.x1 - t.x0 > TOUCHING_TOLERANCE]):
        x0, x1 = min(t.x0 for t in stretch), max(t.x1 for t in stretch)
        if x1 - x0 > least_run + rough:
            narrow.append(Sliver(x0=x0, x1=x1, width=_lasting_width(stretch, limit, least_run)))
    return tuple(sorted(narrow, key=lambda sliver: (sliver.x0, sliver.width)))


def _slabs(shape: Polygon) -> Iterator[_Slab]:
    """Yield every chord between neighboring corners."""
    edges = [
        (a, b) if a[0] < b[0] else (b, a)
        for ring in (shape.exterior, *shape.interiors)
        for a, b in pairwise(ring.coords)
        if abs(a[0] - b[0]) > TOUCHING_TOLERANCE
    ]
    corners = sorted({x for edge in edges for x in (edge[0][0], edge[1][0])})
    for x0, x1 in pairwise(corners):
        if x1 - x0 > TOUCHING_TOLERANCE:
            over = [
                edge
                for edge in edges
                if edge[0][0] <= x0 + TOUCHING_TOLERANCE and edge[1][0] >= x1 - TOUCHING_TOLERANCE
            ]
            sides = sorted(((_height(edge, x0), _height(edge, x1)) for edge in over), key=sum)
            for low, high in zip(sides[::2], sides[1::2], strict=False):
                yield _Slab(x0, x1, low[0], low[1], high[0], high[1])


def _height(edge: tuple[Point, Point], x: float) -> float:
    """Return the height of an edge at ``x``."""
    (ax, ay), (bx, by) = edge
    return ay + (by - ay) * (x - ax) / (bx - ax)


def _stretches(thin: Sequence[_Slab]) -> Iterator[list[_Slab]]:
    """Yield thin slabs joined to stretches."""
    left = sorted(thin, key=lambda t: (t.x0, t.low0))
    while left:
        stretch = [left.pop(0)]
        for slab in stretch:
            met = [t for t in left if slab.meets(t) or t.meets(slab)]
            stretch += met
            left = [t for t in left if t not in met]
        yield stretch


def _lasting_width(stretch: Sequence[_Slab], limit: float, least_run: float) -> float:
    """Return the width that a stretch stays under for more than ``least_run``."""
    low, high = 0.0, limit
    for _ in range(24):
        middle = (low + high) / 2
        parts = [part for slab in stretch if (part := slab.thinned(middle)) is not None]
        if sum(part.x1 - part.x0 for part in parts) > least_run:
            high = middle
        else:
            low = middle
    return high
