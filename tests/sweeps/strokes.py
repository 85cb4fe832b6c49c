"""One stroke of the saw: what stays, what goes, and the band of dust between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import hypot

from shapely.geometry import LineString, MultiPoint, Polygon, box
from shapely.geometry import Point as Spot
from shapely.ops import polygonize, unary_union

from tests.sweeps.planks_wanted import Point, polygons

NEAR = {"in": 1 / 16, "mm": 1.6}  # what a piece may be off
KEPT = {"in": 1 / 16, "mm": 1.5}  # what is left of an end or side that still counts
SAME = {"in": 0.01, "mm": 0.25}  # two figures closer than this are one
DUST = {"in": 1 / 64, "mm": 0.4}  # what is thinner all over falls off by itself
REACH = 1e5  # further than any plank


class CannotCutError(Exception):
    """A cut that can't be made; the text says why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """A cut in the coordinates of a plank as it lies in the floor.

    ``toward`` points from a straight cut to the part that goes. A ring cut out has ``inside``;
    a cut from mark to mark has ``gone``, a spot in the part that goes, ``stays``, one in the part
    that stays, or ``furthest``, the way that the part which goes lies furthest. Such a cut may
    ``run_on`` a little at its ends to meet the edge.
    """

    path: tuple[Point, ...]
    toward: Point | None = None
    inside: bool = False
    gone: Point | None = None
    stays: Point | None = None
    furthest: Point | None = None
    run_on: float = 1 / 8
    kerf: float = 0.0

    def turned_round(self, size: tuple[float, float]) -> Stroke:
        """Return the stroke on a plank of a size that is turned half round."""

        def turn(point: Point) -> Point:
            return size[0] - point[0], size[1] - point[1]

        return replace(
            self,
            path=tuple(map(turn, self.path)),
            toward=self.toward and (-self.toward[0], -self.toward[1]),
            furthest=self.furthest and (-self.furthest[0], -self.furthest[1]),
            gone=self.gone and turn(self.gone),
            stays=self.stays and turn(self.stays),
        )

    def divide(self, part: Polygon) -> tuple[list[Polygon], list[Polygon]]:
        """Return what stays of a part and what goes, without the dust.

        Raises CannotCutError where the cut does not part it.
        """
        if self.inside:
            return self._ring(part)
        if self.toward is not None:
            return self._through(part)
        return self._along(part)

    def _through(self, part: Polygon) -> tuple[list[Polygon], list[Polygon]]:
        """Return the two sides of a straight cut through all of a part."""
        (ax, ay), (bx, by) = self.path[0], self.path[-1]
        long = hypot(bx - ax, by - ay)
        assert self.toward is not None
        if long == 0:
            text = "its path has no length"
            raise CannotCutError(text)
        ux, uy = (bx - ax) / long, (by - ay) / long
        nx, ny = -uy, ux
        slope = nx * self.toward[0] + ny * self.toward[1]
        if abs(slope) * REACH < 1:
            text = "the part that goes lies along the cut"
            raise CannotCutError(text)
        if slope < 0:
            nx, ny = -nx, -ny

        def beyond(off: float) -> Polygon:
            x, y = ax + nx * off, ay + ny * off
            return Polygon(
                [
                    (x - ux * REACH, y - uy * REACH),
                    (x + ux * REACH, y + uy * REACH),
                    (x + ux * REACH + nx * REACH, y + uy * REACH + ny * REACH),
                    (x - ux * REACH + nx * REACH, y - uy * REACH + ny * REACH),
                ]
            )

        stays, goes = part.difference(beyond(0.0)), part.intersection(beyond(self.kerf))
        return polygons(stays), polygons(goes)

    def _ring(self, part: Polygon) -> tuple[list[Polygon], list[Polygon]]:
        """Return a part without a ring cut out of it, and what falls out."""
        waste = Polygon(self.path)
        if not waste.is_valid or waste.is_empty:
            text = "its path is no ring"
            raise CannotCutError(text)
        return polygons(part.difference(waste)), polygons(part.intersection(waste))

    def _along(self, part: Polygon) -> tuple[list[Polygon], list[Polygon]]:
        """Return the two sides of a cut from mark to mark, from edge to edge of the part."""
        lines = unary_union([part.boundary, LineString(_run_on(self.path, self.run_on))])
        inner = [p for p in polygonize(lines) if part.covers(p.representative_point())]
        inner = [p for p in inner if not p.buffer(-self.run_on / 16).is_empty]
        if len(inner) < 2:
            text = "its path does not part what is in hand"
            raise CannotCutError(text)
        picked = min(inner, key=self._off)
        others = [p for p in inner if p is not picked]
        return (others, [picked]) if self.stays is None else ([picked], others)

    def _off(self, side: Polygon) -> tuple[float, float, float]:
        """Return how far a side of the cut is from the one that is named.

        Where a spot lies on the cut itself, the smaller side is meant.
        """
        if self.furthest is not None:
            x, y = self.furthest
            return -max(px * x + py * y for px, py in side.exterior.coords), 0.0, 0.0
        spot = Spot(self.gone or self.stays or self.path[0])
        inside = round(float(side.boundary.distance(spot)), 6)
        return round(float(side.distance(spot)), 6), -inside, float(side.area)


def _run_on(path: Sequence[Point], by: float) -> list[Point]:
    """Return a path run on a little at both ends, so that it meets the edge it ends at."""
    return [_beyond(path[1], path[0], by), *path[1:-1], _beyond(path[-2], path[-1], by)]


def _beyond(before: Point, end: Point, by: float) -> Point:
    long = hypot(end[0] - before[0], end[1] - before[1]) or 1.0
    return end[0] + (end[0] - before[0]) / long * by, end[1] + (end[1] - before[1]) / long * by


def line_through(path: Sequence[Point], part: Polygon) -> tuple[Point, Point] | None:
    """Return where the line of a straight path enters and leaves a part, None where it misses."""
    (ax, ay), (bx, by) = path[0], path[-1]
    long = hypot(bx - ax, by - ay)
    ux, uy = (bx - ax) / long, (by - ay) / long
    line = LineString(
        [(ax - ux * REACH, ay - uy * REACH), (bx + ux * REACH, by + uy * REACH)]
    ).intersection(part)
    if line.is_empty:
        return None
    corners = [c for geom in getattr(line, "geoms", [line]) for c in geom.coords]
    corners.sort(key=lambda c: (c[0] - ax) * ux + (c[1] - ay) * uy)
    return corners[0], corners[-1]


def factory_length(part: Polygon, size: tuple[float, float], side: str, unit: str) -> float:
    """Return how much a part still has of an end or side of its plank as it came."""
    axis, at = {
        "left end": (0, 0.0),
        "right end": (0, size[0]),
        "low side": (1, 0.0),
        "high side": (1, size[1]),
    }[side]
    near = SAME[unit]
    pieces = [
        hypot(b[0] - a[0], b[1] - a[1])
        for a, b in pairwise(part.exterior.coords)
        if abs(a[axis] - at) <= near and abs(b[axis] - at) <= near
    ]
    return float(sum(pieces))


def keeps(part: Polygon, size: tuple[float, float], side: str, unit: str) -> bool:
    """Whether 1/16 in or more of a factory end or side is left of a part."""
    return factory_length(part, size, side, unit) >= KEPT[unit] - SAME[unit] / 8


def off_by(made: Polygon, wanted: Polygon) -> float:
    """Return the furthest that the outlines of two shapes lie apart."""
    far = MultiPoint(
        [c for shape in (made, wanted) for ring in _rings(shape) for c in ring.coords]
    ).geoms
    return max(float(max(p.distance(made.boundary), p.distance(wanted.boundary))) for p in far)


def _rings(shape: Polygon) -> list[LineString]:
    return [shape.exterior, *shape.interiors]


def alike(made: Polygon, wanted: Polygon, near: float) -> bool:
    """Whether two shapes differ nowhere by more than ``near``."""
    if made.is_empty or wanted.is_empty:
        return bool(made.is_empty and wanted.is_empty)
    reach = near * (1 + SAME["in"])
    return _within(made, wanted, reach) and _within(wanted, made, reach)


def _within(one: Polygon, other: Polygon, reach: float) -> bool:
    """Whether a shape reaches nowhere past another by more, and fills it but for as much."""
    core = one.buffer(-reach, join_style="mitre")
    grown = other.buffer(reach, join_style="mitre")
    return bool(grown.covers(one) and (core.is_empty or other.covers(core)))


def solid(shapes: Sequence[Polygon], unit: str) -> list[Polygon]:
    """Return the shapes that are more than dust."""
    return [s for s in shapes if not s.buffer(-DUST[unit] / 2).is_empty]


def described(shape: Polygon) -> str:
    """Return the bounds and the corners of a shape in figures."""
    if shape.is_empty:
        return "nothing"
    x0, y0, x1, y1 = shape.bounds
    boxed = shape.area > box(x0, y0, x1, y1).area - 1 / 64
    corners = (
        "" if boxed else " " + str([(round(x, 3), round(y, 3)) for x, y in shape.exterior.coords])
    )
    return f"{x0:.3f}..{x1:.3f} x {y0:.3f}..{y1:.3f}{corners}"
