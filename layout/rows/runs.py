"""Runs: connected stretches of a row, each with its polygon and the posts that it goes round."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property

import shapely
from shapely.geometry import Polygon

from layout.values.tolerances import (
    NECK_TOLERANCE,
    OVERLAP_TOLERANCE,
    RECTANGLE_TOLERANCE,
    TOUCHING_TOLERANCE,
)


@dataclass(frozen=True, kw_only=True)
class Run:
    """A connected stretch of a row.

    ``shape`` is its polygon; ``posts`` are the extents along the row of what it encloses and no
    piece may. ``y0`` and ``y1`` are the sides of the uncut boards that lie in it, so that
    ``y1 - y0`` is the board width however much of the run is ripped away.
    """

    row: int
    place: int
    shape: Polygon
    y0: float
    y1: float
    posts: tuple[tuple[float, float], ...] = ()

    @property
    def name(self) -> str:
        """The name in messages: row and place, as in 3-2."""
        return f"{self.row}-{self.place}"

    @cached_property
    def x0(self) -> float:
        """The left end."""
        return float(self.shape.bounds[0])

    @cached_property
    def x1(self) -> float:
        """The right end."""
        return float(self.shape.bounds[2])

    @property
    def length(self) -> float:
        """The extent along the row."""
        return self.x1 - self.x0

    @property
    def width(self) -> float:
        """The width of the boards that lie in it."""
        return round(self.y1 - self.y0, 6)

    @cached_property
    def rip(self) -> tuple[float, float]:
        """What is missing of the board width along the whole run, at its low and high side."""
        _, low, _, high = self.shape.bounds
        return max(0.0, float(low) - self.y0), max(0.0, self.y1 - float(high))

    @cached_property
    def rectangular(self) -> bool:
        """Whether the run is a plain rectangle (of any width)."""
        left, low, right, high = self.shape.bounds
        full = (right - left) * (high - low)
        return bool(abs(full - self.shape.area) < RECTANGLE_TOLERANCE * max(1.0, full))

    def parts(self, shapes: Iterable[shapely.Geometry]) -> list[Run]:
        """Return runs for what is left of this one, left to right, with the posts they enclose."""
        kept = [p for shape in shapes for p in polygons_in(shape)]
        runs = []
        for shape in sorted(kept, key=lambda p: p.bounds):
            rings = {(round(r.bounds[0], 5), round(r.bounds[2], 5)) for r in shape.interiors}
            posts = tuple(s for s in self.posts if (round(s[0], 5), round(s[1], 5)) in rings)
            runs.append(replace(self, shape=shape, posts=posts))
        return runs

    @cached_property
    def full(self) -> bool:
        """Whether the run is a rectangle as wide as a board: no rip, no notch, no angle."""
        return self.rectangular and sum(self.rip) < TOUCHING_TOLERANCE


def polygons_in(part: shapely.Geometry) -> list[Polygon]:
    """Return the polygons of a cut, what comes from rounding left out."""
    polygons = []
    for piece in getattr(part, "geoms", [part]):
        if isinstance(piece, Polygon) and not piece.is_empty:
            x0, y0, x1, y1 = piece.bounds
            if min(x1 - x0, y1 - y0) > TOUCHING_TOLERANCE and piece.area > OVERLAP_TOLERANCE:
                polygons += _divided(piece)
    return polygons


def _divided(shape: Polygon) -> list[Polygon]:
    """Return the parts of a shape that hang together by more than a neck of rounding."""
    if len(shape.exterior.coords) <= 5:
        return [shape]
    core = shape.buffer(-NECK_TOLERANCE, join_style="mitre")
    parts = [p for p in getattr(core, "geoms", [core]) if p.area > OVERLAP_TOLERANCE]
    if len(parts) < 2:
        return [shape]
    return [p.buffer(NECK_TOLERANCE, join_style="mitre") for p in parts]
