"""A last piece: what the tape shows to the wall, what is cut, and what to do past the limits."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from fractions import Fraction

from shapely.geometry import LineString, Polygon

from layout.cutsheet.cut_view import CutView
from layout.cutsheet.strips.cuts import bare_words
from layout.cutsheet.strips.shift import SLACK, FirstCut
from layout.cutsheet.strips.values import WallPiece
from layout.values.laid_pieces import LaidPiece
from layout.values.outline import EdgeKind, Point, edges_of, to_frame
from layout.values.request import PlanRequest
from layout.values.tolerances import LENGTH_TOLERANCE
from layout.values.units import INCH

EIGHTH = 0.125  # inches: finer than that no limit is told
_FAR = 1e5  # further than any floor reaches
NOTHING_MOVES = "stop, no joint moves"
LINE = "end line"  # where a floor ends without a wall: not the line that row 1 is laid to
_LINES = frozenset({EdgeKind.TRANSITION, EdgeKind.STAIR_NOSE})


@dataclass(frozen=True, slots=True, kw_only=True)
class WallMet:
    """What stands beyond the end of a row, how far from it, and the widest gap its cover hides."""

    name: str
    gap: float
    most: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WayOut:
    """What is there past the limit: spare planks, the source of the piece.

    ``long``: how the row's first piece is cut where a whole plank does not reach, so that a new one
    may end the row; ``short``: where the piece comes out too short. None where no shift of the row
    keeps the rules: then joints come no further than ``apart``, where it is too long and too short;
    None where they don't move at all. ``least``: the shortest end piece.
    """

    spares: int
    length: float
    new: bool
    long: FirstCut | None = None
    short: FirstCut | None = None
    least: float = 0.0
    apart: tuple[float | None, float | None] = (None, None)

    def over(self, unit: str) -> str:
        """Return what is done where a whole plank does not reach."""
        return again_words(self.long, unit) if self.long else stop_words(self.apart[0], unit)


class StopsOfFloor:
    """Walls, posts and lines of a floor in its direction frame."""

    def __init__(self, request: PlanRequest, direction_deg: float) -> None:
        zone = request.zone
        self._edges: list[tuple[LineString, str, float | None]] = []
        self._cased: list[LineString] = []
        ring = to_frame(zone.outline, direction_deg)
        for i, pair in enumerate(edges_of(ring)):
            kind = zone.edges[i].kind if i in zone.edges else EdgeKind.WALL
            name = LINE if kind in _LINES else kind.value
            most = zone.edges[i].max_gap if i in zone.edges else None
            self._edges.append((LineString(pair), "wall" if name == "casing" else name, most))
            self._cased += [LineString(pair)] if name == "casing" else []
        for hole in zone.holes:
            ring = to_frame(hole.ring, direction_deg)
            self._edges += [(LineString(pair), hole.kind.value, None) for pair in edges_of(ring)]

    def beyond(self, piece: LaidPiece, *, right: bool, near: float) -> WallMet | None:
        """Return what the end of a piece that faces right or left would meet first."""
        x = piece.bounds[2] if right else piece.bounds[0]
        best: WallMet | None = None
        for edge in piece.uprights(right=right, near=near):
            if abs(edge[0] - x) <= near:
                stop = self.beyond_edge(edge, right=right, near=near)
                if stop and (best is None or stop.gap < best.gap):
                    best = stop
        return best

    def beyond_edge(
        self, edge: tuple[float, float, float], *, right: bool, near: float
    ) -> WallMet | None:
        """Return what an upright edge (x, low, high) that faces right or left would meet first."""
        at, low, high = edge
        reach = at + (_FAR if right else -_FAR)
        path = [(at, low + near), (reach, low + near), (reach, high - near), (at, high - near)]
        return self._first(Polygon(path), at, 0, near)

    def beyond_level(
        self, edge: tuple[float, float, float], *, up: bool, near: float
    ) -> WallMet | None:
        """Return what a level edge (y, left, right) that faces up or down would meet first."""
        at, left, right = edge
        reach = at + (_FAR if up else -_FAR)
        path = [(left + near, at), (left + near, reach), (right - near, reach), (right - near, at)]
        met = self._first(Polygon(path), at, 1, near)
        return None if met is None else replace(met, name=self._jamb(met.name, path, near))

    def _jamb(self, name: str, path: list[Point], near: float) -> str:
        """Return jamb where what was met across a row is the wall's end in a doorway."""
        level = Polygon(path)
        cased = [line for line in self._cased if line.intersection(level).length > near]
        return "jamb" if name == "wall" and cased else name

    def _first(self, path: Polygon, at: float, axis: int, near: float) -> WallMet | None:
        """Return what lies first in the way along an axis."""
        best: WallMet | None = None
        for line, name, most in self._edges:
            met = line.intersection(path)
            if met.is_empty or met.length <= near:
                continue
            gap = min(abs(point[axis] - at) for point in _points(met))
            if best is None or gap < best.gap:
                best = WallMet(name=name, gap=gap, most=most)
        return best


def _points(met: object) -> list[tuple[float, float]]:
    """Return the corners of what was met."""
    parts = getattr(met, "geoms", [met])
    return [point for part in parts for point in part.coords]


def wall_piece(
    view: CutView,
    piece: LaidPiece,
    *,
    n: int | None,
    stop: WallMet | None,
    way: WayOut,
) -> WallPiece | None:
    """Return a last piece, None where it does not begin at an end that is there when it is cut."""
    to_right = view.name(view.cut.goes) == "right"
    begins = view.part.bounds[0 if to_right else 2]
    seen = view.seen(piece.in_plank)
    if abs(seen.bounds[0 if to_right else 2] - begins) > 2 * view.step:
        return None
    cut = view.figure(abs(view.path[0][0] - begins))
    gap = view.figure(stop.gap if stop else 0.0)
    least, most = _limits(view, begins, cut)
    return WallPiece(
        id=piece.piece.id,
        n=n,
        stop=stop.name if stop else "wall",
        to_wall=bare_words(cut + gap, view.unit),
        gap=bare_words(gap, view.unit),
        cut=bare_words(cut, view.unit),
        limits=limit_words(least, most, view.unit),
        over=_over(view, most, begins, way),
        under=under_words(cut, view.unit, way),
    )


def under_words(cut: float, unit: str, way: WayOut) -> str:
    """Return what to do where the piece comes out under its least; empty where it hardly can."""
    if cut - way.least >= SLACK * INCH[unit] or not way.least:
        return ""
    least = bare_words(way.least, unit)
    if way.short is None:
        return f"under {least}: {stop_words(way.apart[1], unit)}"
    if way.spares <= 0 and (way.short.shift < 0 or not way.new):
        return f"under {least}: stop, no spare"
    if way.short.drops:
        return f"under {least}: {again_words(way.short, unit)}, no {way.short.drops}"
    return f"under {least}: {again_words(way.short, unit)}, lay again"


def stop_words(apart: float | None, unit: str) -> str:
    """Return that a row can't be laid otherwise: how near its joints would come, if they move."""
    if apart is None:
        return NOTHING_MOVES
    return f"stop, joints {bare_words(tape_down(apart, unit), unit)} apart"


def again_words(first: FirstCut, unit: str) -> str:
    """Return how a row is taken up and begun shorter, or longer with a new piece."""
    if first.shift < 0:
        return f"row up, {first.id} new to {bare_words(first.long, unit)}"
    return f"row up, cut {first.id} to {bare_words(first.long, unit)}"


def _limits(view: CutView, begins: float, cut: float) -> tuple[float, float]:
    """Return least and most of what is cut in eighths: the least not less, the most the nearest.

    A sixteenth that the next piece is shorter then lies in its gap.
    """
    if view.cut.limits is None:
        return cut, cut
    base = view.name(view.cut.measure_from)
    places = [at if base == "left" else view.size[0] - at for at in view.cut.limits]
    low, high = sorted(abs(place - begins) for place in places)
    step = Fraction(EIGHTH if view.unit == "in" else view.step)
    least, most = (Fraction(value).limit_denominator(1_000_000) for value in (low, high))
    inward = float(-(-least // step) * step)
    return min(cut, inward), max(cut, float((most + step / 2) // step * step))


def limit_words(least: float, most: float, unit: str) -> str:
    """Return the limits in words."""
    high = bare_words(most, unit)
    if least <= 0:
        return f"to {high}"
    return f"just {high}" if least >= most else f"{bare_words(least, unit)} to {high}"


def tape_down(value: float, unit: str) -> float:
    """Return a limit in eighths or millimeters, rounded down."""
    step = EIGHTH if unit == "in" else 1.0
    return math.floor(value / step + LENGTH_TOLERANCE[unit]) * step


def _over(view: CutView, most: float, begins: float, way: WayOut) -> str:
    """Return what to do where the piece must be longer than the limit."""
    if way.spares <= 0:
        return "stop, no spare"
    left, _, right, _ = view.part.bounds
    in_hand = abs((right if begins == left else left) - begins)
    names = view.cut.then.aside
    if names and most < in_hand - view.step:
        return f"cut it, {' and '.join(names)} new"
    if not way.new and most < way.length - view.step:
        return "a new plank"
    return way.over(view.unit)
