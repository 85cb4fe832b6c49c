"""Judging strips: slivers anywhere in the floor.

  ____________        A strip under a wall that leans from the rows by more than 15 degrees is
 /____________|       the wall's own shape, a tip, and no sliver: where the chord across the row
/  row                has such a wall at either side it does not count.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import radians, tan

import shapely
from shapely.geometry import Polygon

from layout.judge.view import Fault, View
from layout.values.laid_pieces import LaidPiece
from layout.values.outline import Point, polygons_of
from layout.values.tolerances import (
    ANGLE_TOLERANCE,
    SLIVER_PADDING,
    TOUCHING_TOLERANCE,
    WHOLE_TOLERANCE,
)

_LEAN = tan(radians(15 + ANGLE_TOLERANCE))  # rise over run of a wall, above which tips are its own

Edge = tuple[float, float, float, float]


def slivers(view: View) -> Iterator[Fault]:
    """Yield strips narrower across the row than the rule over more than 2 in (50 mm)."""
    least = view.request.rules.min_row_width
    for run in view.runs:
        if all(piece.before for piece in run):
            continue
        thin = [part for piece in run for part in thin_parts(piece, least - view.near)]
        for width, extent in stretches(thin, least, view):
            yield Fault(
                rule="min_row_width",
                where=f"row {run[0].row}",
                value=width,
                limit=least,
                text=f"a strip is {width:.3f} wide over {extent:.2f}; the rule asks for {least:g}",
                rows=(run[0].row,),
            )


def thin_parts(piece: LaidPiece, limit: float) -> Iterator[Polygon]:
    """Yield the parts of a piece whose upright chord is shorter than ``limit``, but for tips."""
    if not piece.whole(WHOLE_TOLERANCE):
        yield from thin_between(piece.edges, limit)


def thin_between(edges: Sequence[Edge], limit: float) -> Iterator[Polygon]:
    """Yield the parts between edges whose upright chord is shorter than ``limit``, but for tips."""
    for slab in _slabs(edges):
        part = _thinned(slab, limit)
        if part is not None:
            yield part


def _slabs(sides: Sequence[Edge]) -> Iterator[tuple[float, float, Point, Point]]:
    """Yield (x0, x1, chord at x0, chord at x1) between neighboring corners; a chord: low, high."""
    edges = [((ax, ay), (bx, by)) for ax, ay, bx, by in sides if abs(ax - bx) > TOUCHING_TOLERANCE]
    edges = [(a, b) if a[0] < b[0] else (b, a) for a, b in edges]
    stops = sorted({x for a, b in edges for x in (a[0], b[0])})
    for x0, x1 in pairwise(stops):
        if x1 - x0 <= TOUCHING_TOLERANCE:
            continue
        over = [
            (a, b)
            for a, b in edges
            if a[0] <= x0 + TOUCHING_TOLERANCE and b[0] >= x1 - TOUCHING_TOLERANCE
        ]
        heights = sorted((_height(e, x0), _height(e, x1)) for e in over)
        heights.sort(key=sum)
        for low, high in zip(heights[::2], heights[1::2], strict=False):
            yield x0, x1, (low[0], high[0]), (low[1], high[1])


def _height(edge: tuple[Point, Point], x: float) -> float:
    """Return the height of an edge at ``x``."""
    (ax, ay), (bx, by) = edge
    return ay + (by - ay) * (x - ax) / (bx - ax)


def _thinned(slab: tuple[float, float, Point, Point], limit: float) -> Polygon | None:
    """Return the part of a slab whose chords are shorter than ``limit``, None without any.

    Nothing of a slab at a wall that leans so that its tip is none.
    """
    x0, x1, (low0, high0), (low1, high1) = slab
    if max(abs(low1 - low0), abs(high1 - high0)) > _LEAN * (x1 - x0):
        return None
    at0, at1 = high0 - low0, high1 - low1
    if min(at0, at1) >= limit:
        return None
    start = (at0 - limit) / (at0 - at1) if at0 > limit else 0.0
    stop = (limit - at0) / (at1 - at0) if at1 > limit else 1.0

    def between(t: float) -> tuple[float, float, float]:
        return x0 + (x1 - x0) * t, low0 + (low1 - low0) * t, high0 + (high1 - high0) * t

    (xa, la, ha), (xb, lb, hb) = between(start), between(stop)
    if xb - xa <= TOUCHING_TOLERANCE:
        return None
    low, high = -SLIVER_PADDING, SLIVER_PADDING
    return Polygon([(xa, la + low), (xb, lb + low), (xb, hb + high), (xa, ha + high)])


def stretches(thin: Sequence[Polygon], least: float, view: View) -> Iterator[tuple[float, float]]:
    """Yield (narrowest chord, length) of every thin stretch longer than 2 in (50 mm)."""
    if not thin:
        return
    grown = [part.buffer(view.near, join_style="mitre") for part in thin]
    for stretch in polygons_of(shapely.union_all(grown)):
        x0, _, x1, _ = stretch.bounds
        extent = x1 - x0 - 2 * view.near
        if extent > view.least_run + view.near:
            inside = [part for part in thin if part.intersects(stretch)]
            yield _lasting_width(inside, least, view.least_run), extent


def _lasting_width(thin: Sequence[Polygon], least: float, least_run: float) -> float:
    """Return the width that the stretch stays under for more than 2 in (50 mm)."""
    low, high = 0.0, least
    for _ in range(20):
        middle = (low + high) / 2
        total = sum(_extent_under(part, middle) for part in thin)
        if total > least_run:
            high = middle
        else:
            low = middle
    return high


def _extent_under(part: Polygon, limit: float) -> float:
    """Return how long a thin part is narrower than ``limit``."""
    (x0, l0), (x1, l1), (_, h1), (_, h0) = list(part.exterior.coords)[:4]
    padding = 2 * SLIVER_PADDING
    at0, at1 = h0 - l0 - padding, h1 - l1 - padding
    if min(at0, at1) >= limit:
        return 0.0
    if max(at0, at1) <= limit or at0 == at1:
        return float(x1 - x0)
    return float((x1 - x0) * (limit - min(at0, at1)) / abs(at1 - at0))
