"""Which pieces are trapped: what overhangs each piece, and what is down when its turn comes.

What counts as trapped, and how such a piece goes in, is the table of ``installing``; this file
finds the situation of every piece from its outline. Half an inch of a side under something counts.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Polygon

from layout.planks.installing import NONE, SIDES, Flank, Flanks, Situation, way_in
from layout.planks.pieces import Slot
from layout.rows.frame import Frame
from layout.rows.ground import Ground
from layout.values.material import GoesIn, Lay
from layout.values.outline import EdgeKind, Point, edges_of, ring_area
from layout.values.plan import Piece, Plan
from layout.values.request import PlanRequest
from layout.values.units import INCH

_OVERHANGS = frozenset({EdgeKind.CASING, EdgeKind.TOE_KICK, EdgeKind.RADIATOR})
_LEAST = 0.5  # inches of a side that something must overhang
_BEFORE = (False, 0)  # the turn of what is down before any row


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceOutline:
    """The outline of a piece in the working frame; ``down`` where it was down before the plan."""

    row: int
    shape: Polygon
    down: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class _Overhang:
    """An edge of the zone that the floor runs under, and the strip of floor beside it."""

    a: Point
    b: Point
    flank: Flank
    cased: bool
    strip: Polygon

    def along(self, shape: Polygon) -> float:
        """Return how much of a piece lies in the strip, along the edge."""
        met = shapely.get_coordinates(shapely.intersection(shape, self.strip))
        if len(met) == 0:
            return 0.0
        way = np.subtract(self.b, self.a)
        places = (met - self.a) @ (way / np.hypot(*way))
        return float(places.max() - places.min())


def overhung(request: PlanRequest) -> bool:
    """Whether the floor of a request runs under anything at its edges."""
    return any(edge.kind in _OVERHANGS for edge in request.zone.edges.values())


def ways_in(ground: Ground, slots: Sequence[Slot]) -> list[GoesIn | None]:
    """Return how each shape of each slot, in order, goes in where it is trapped, else None."""
    request = ground.request
    new = [PieceOutline(row=slot.row, shape=shape) for slot in slots for shape in slot.shapes]
    if not overhung(request) and not request.laid:
        return [None for _ in new]
    down = [_outline_of(piece, ground.frame, down=True) for piece in request.laid]
    return Surroundings(ground, [*down, *new]).ways(request.lay)[len(down) :]


def surroundings(ground: Ground, plan: Plan) -> Surroundings:
    """Return what lies around the pieces of a plan."""
    down = {piece.id for piece in ground.request.laid}
    outlines = [_outline_of(piece, ground.frame, down=piece.id in down) for piece in plan.pieces]
    return Surroundings(ground, outlines)


def _outline_of(piece: Piece, frame: Frame, *, down: bool) -> PieceOutline:
    """Return a piece in the working frame."""
    shape = Polygon(frame.inward(piece.outline), [frame.inward(ring) for ring in piece.holes])
    return PieceOutline(row=piece.row, shape=shape, down=down)


class Surroundings:
    """What overhangs each piece of a floor, and which pieces meet, whatever their order."""

    def __init__(self, ground: Ground, outlines: Sequence[PieceOutline]) -> None:
        self._lock = ground.request.product.lock
        self._outlines = outlines
        self._near = ground.near
        self._over: list[Flanks] = [NONE] * len(outlines)
        self._cased: list[Flanks] = [NONE] * len(outlines)
        self._find_overhangs(list(_overhangs(ground)), _LEAST * INCH[ground.request.unit])

    def ways(self, lay: Lay) -> list[GoesIn | None]:
        """Return how each piece goes in, None where it is not trapped, rows laid in ``lay``."""
        turns = [_BEFORE if b.down else lay.turn(b.row) for b in self._outlines]
        down: list[set[Flank]] = [set() for _ in self._outlines]
        for i, j, flank in self._meetings:
            # Pieces of one row follow each other from the end where it begins.
            if turns[i] < turns[j] or (turns[i] == turns[j] and flank is Flank.BEGIN):
                down[j].add(flank)
        return [
            way_in(self._lock, self._situation(k, down))
            if not outline.down and (self._over[k] or len(down[k]) > 1)
            else None
            for k, outline in enumerate(self._outlines)
        ]

    def _situation(self, k: int, down: Sequence[set[Flank]]) -> Situation:
        """Return the situation of one piece."""
        run = self._runs[k]
        return Situation(
            over=self._over[k],
            down=frozenset(down[k]),
            run_over=NONE.union(*(self._over[i] for i in run)),
            run_cased=NONE.union(*(self._cased[i] for i in run)),
            run_down=NONE.union(*(down[i] for i in run)) & SIDES,
        )

    def _find_overhangs(self, overhangs: Sequence[_Overhang], least: float) -> None:
        """Find the flanks of every piece that something overhangs."""
        if not overhangs or not self._outlines:
            return
        shapes = [outline.shape for outline in self._outlines]
        tree = shapely.STRtree(shapes)
        for overhang in overhangs:
            for k in tree.query(overhang.strip, predicate="intersects"):
                if overhang.along(shapes[k]) > least:
                    self._over[k] |= {overhang.flank}
                    self._cased[k] |= {overhang.flank} if overhang.cased else NONE

    @cached_property
    def _meetings(self) -> list[tuple[int, int, Flank]]:
        """Every (i, j, flank) where piece ``i`` lies at that flank of piece ``j``."""
        shapes = np.array([outline.shape for outline in self._outlines])
        grown = shapely.buffer(shapes, self._near, join_style="mitre")
        one, other = shapely.STRtree(shapes).query(grown, predicate="intersects")
        apart = one != other
        one, other = one[apart], other[apart]
        met = _extents(shapely.bounds(shapely.intersection(grown[one], shapes[other])))
        lefts = shapely.bounds(shapes)[:, 0]
        meetings = []
        for i, j, (along, across) in zip(one.tolist(), other.tolist(), met, strict=True):
            step = self._outlines[j].row - self._outlines[i].row
            if step == 0 and across > 4 * self._near:
                meetings.append((i, j, Flank.BEGIN if lefts[i] < lefts[j] else Flank.END))
            elif abs(step) == 1 and along > 4 * self._near:
                meetings.append((i, j, Flank.NEAR if step > 0 else Flank.FAR))
        return meetings

    @cached_property
    def _runs(self) -> list[list[int]]:
        """For every piece the pieces of its run, itself included; what is down belongs to none."""
        run_of = [[k] for k in range(len(self._outlines))]
        for i, j, flank in self._meetings:
            new = not (self._outlines[i].down or self._outlines[j].down)
            if flank is Flank.BEGIN and new and run_of[i] is not run_of[j]:
                run_of[i] += run_of[j]
                for k in run_of[j]:
                    run_of[k] = run_of[i]
        return run_of


def _extents(bounds: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the extents along and across of boxes, zero where there is none."""
    return np.nan_to_num(bounds[:, 2:] - bounds[:, :2])


def _overhangs(ground: Ground) -> Iterator[_Overhang]:
    """Yield the edges that the floor runs under."""
    request, near = ground.request, 4 * ground.near
    points = ground.frame.inward(request.zone.outline)
    hand = 1 if ring_area(points) > 0 else -1
    for index, (a, b) in enumerate(edges_of(points)):
        edge = request.zone.edges.get(index)
        if edge is not None and edge.kind in _OVERHANGS:
            gap = request.rules.expansion_gap if edge.gap is None else edge.gap
            reach = max(gap, edge.max_gap or 0.0) + near
            yield _Overhang(
                a=a,
                b=b,
                flank=_flank((b[0] - a[0]) * hand, (b[1] - a[1]) * hand),
                cased=edge.kind is EdgeKind.CASING,
                strip=LineString([a, b]).buffer(reach, cap_style="flat"),
            )


def _flank(along: float, across: float) -> Flank:
    """Return the flank of the floor on the left of a way at which that way runs."""
    if abs(along) > abs(across):
        return Flank.NEAR if along > 0 else Flank.FAR
    return Flank.END if across > 0 else Flank.BEGIN
