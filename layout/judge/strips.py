"""Judging strips: slivers anywhere in the floor, and the balance of the first and last row."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import shapely
from shapely.geometry import Polygon

from layout.judge.view import Fault, View
from layout.values.laid_pieces import LaidPiece
from layout.values.outline import Point, polygons_of, ring_area
from layout.values.tolerances import (
    RATIO_TOLERANCE,
    SLIVER_PADDING,
    TOUCHING_TOLERANCE,
    WHOLE_TOLERANCE,
)


def slivers(view: View) -> Iterator[Fault]:
    """Yield strips narrower across the row than the rule over more than 2 in (50 mm)."""
    least = view.request.rules.min_row_width
    for run in view.runs:
        if all(piece.before for piece in run):
            continue
        thin = [part for piece in run for part in _thin_parts(piece, least - view.near)]
        for width, extent in _stretches(thin, least, view):
            yield Fault(
                rule="min_row_width",
                where=f"row {run[0].row}",
                value=width,
                limit=least,
                text=f"a strip is {width:.3f} wide over {extent:.2f}; the rule asks for {least:g}",
                rows=(run[0].row,),
            )


def _thin_parts(piece: LaidPiece, limit: float) -> Iterator[Polygon]:
    """Yield the parts of a piece whose upright chord is shorter than ``limit``."""
    if piece.whole(WHOLE_TOLERANCE):
        return
    for slab in _slabs(piece):
        part = _thinned(slab, limit)
        if part is not None:
            yield part


def _slabs(piece: LaidPiece) -> Iterator[tuple[float, float, Point, Point]]:
    """Yield (x0, x1, chord at x0, chord at x1) between neighboring corners; a chord: low, high."""
    edges = [
        ((ax, ay), (bx, by)) for ax, ay, bx, by in piece.edges if abs(ax - bx) > TOUCHING_TOLERANCE
    ]
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
    """Return the part of a slab whose chords are shorter than ``limit``, None without any."""
    x0, x1, (low0, high0), (low1, high1) = slab
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


def _stretches(thin: Sequence[Polygon], least: float, view: View) -> Iterator[tuple[float, float]]:
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


@dataclass(frozen=True, slots=True)
class _WallStretch:
    """A stretch of edge that rows end against: its heights, and whether floor lies above it."""

    low: float
    high: float
    above: bool


def unbalanced(view: View) -> Iterator[Fault]:
    """Yield the first row where the balance rule asks for another first rip.

    Two level stopping lines: a full first row if at least half a board remains across, else the
    remainder and one board shared equally. Otherwise every strip at least half a board if any
    first rip gives that, else the narrowest strip as wide as any gives. Not judged where rows
    were down before, where widths are mixed, or where a ``max_gap`` may move a stopping line.
    """
    rules, boards = view.request.rules, view.request.product.boards
    free = all(edge.max_gap is None for edge in view.request.zone.edges.values())
    if not rules.balance or len(boards) > 1 or view.request.laid or not free or not view.rows:
        return
    for part in polygons_of(view.region):
        pieces = [p for p in view.pieces if p.shape.intersects(part)]
        if pieces:
            yield from _part_unbalanced(view, part, pieces)


def _part_unbalanced(view: View, part: Polygon, pieces: Sequence[LaidPiece]) -> Iterator[Fault]:
    """Yield the fault of one connected part of the region."""
    width = view.request.product.board.width
    stops = _stops(part, width, view.least_run)
    line = _row_line(pieces, view)
    if line is None or not stops:
        return
    two = len(stops) == 2 and stops[0].above and not stops[1].above
    if two and all(stop.high - stop.low < TOUCHING_TOLERANCE for stop in stops):
        value, want = _plain(stops[0].low, stops[1].low, line, width, view)
        if abs(value - want) > view.near:
            yield _balance_fault(value, want, f"the first row is {value:.3f} wide, not {want:.3f}")
        return
    value = _narrowest(stops, line, width)
    best = max(_narrowest(stops, at, width) for at in _choices(stops, width))
    want = min(best, width / 2)
    if value < want - 2 * view.near:
        text = f"the narrowest strip is {value:.3f}; a first rip that leaves {want:.3f} exists"
        yield _balance_fault(value, want, text)


def _plain(foot: float, head: float, line: float, width: float, view: View) -> tuple[float, float]:
    """Return the width of the first row found and the one that the rule asks for."""
    across = head - foot
    remainder = across % width
    if remainder > width - view.near or remainder < view.near:
        remainder = width
    shared = (remainder + width) / 2
    value = (line - foot) % width if view.from_low else (head - line) % width
    if value < view.near or value > width - view.near:
        value = width
    want = width if remainder >= width / 2 else shared
    if abs(remainder - width / 2) <= view.near:  # half a board within what is measured: either
        want = min((width, shared), key=lambda each: abs(value - each))
    want = min(want, across)
    return min(value, across), want


def _row_line(pieces: Sequence[LaidPiece], view: View) -> float | None:
    """Return the height of a row line, from the plank of the largest piece."""
    largest = max(pieces, key=lambda piece: piece.shape.area)
    if view.from_low:
        return largest.y0 + largest.piece.size[1]
    return largest.y0


def _stops(part: Polygon, width: float, least_run: float) -> list[_WallStretch]:
    """Return the stopping lines: chains of edges flatter than 45 degrees, longer than 2 in."""
    stops: set[_WallStretch] = set()
    for ring, sign in ((part.exterior, 1), *((r, -1) for r in part.interiors)):
        points = list(ring.coords)[:-1]
        if ring_area(points) * sign < 0:
            points.reverse()
        for chain in _chains(points):
            heights = [y for _, y in chain]
            level = max(heights) - min(heights) < width
            for run in [chain] if level else [list(pair) for pair in pairwise(chain)]:
                low, high = min(y for _, y in run), max(y for _, y in run)
                if abs(run[-1][0] - run[0][0]) > least_run and high - low < width:
                    stops.add(_WallStretch(low, high, run[-1][0] > run[0][0]))
    return sorted(stops, key=lambda stop: (stop.low, stop.high, stop.above))


def _chains(points: Sequence[Point]) -> Iterator[list[Point]]:
    """Yield the chains of flat edges that run one way along a ring."""
    count = len(points)
    ways = [_way(points[i], points[(i + 1) % count]) for i in range(count)]
    begin = next((i for i in range(count) if ways[i] != ways[i - 1]), 0)
    chain: list[Point] = []
    for k in range(begin, begin + count):
        i = k % count
        if chain and ways[i] != ways[i - 1]:
            yield chain
            chain = []
        if ways[i]:
            chain = [*(chain or [points[i]]), points[(i + 1) % count]]
    if chain:
        yield chain


def _way(a: Point, b: Point) -> int:
    """Return which way a flat edge runs along the rows, 0 for a steep one."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    if abs(dy) >= abs(dx) * (1 - RATIO_TOLERANCE):
        return 0
    return 1 if dx > 0 else -1


def _narrowest(stops: Sequence[_WallStretch], line: float, width: float) -> float:
    """Return the narrowest strip at any stopping line for row lines at ``line`` modulo width."""
    narrowest = width
    for stop in stops:
        edge = stop.high if stop.above else stop.low
        strip = ((line - edge) if stop.above else (edge - line)) % width
        if strip < TOUCHING_TOLERANCE or strip > width - TOUCHING_TOLERANCE:
            strip = width
        crossed = strip + (stop.high - stop.low) > width + TOUCHING_TOLERANCE
        narrowest = min(narrowest, 0.0 if crossed else strip)
    return narrowest


def _choices(stops: Sequence[_WallStretch], width: float) -> Iterator[float]:
    """Yield every height of row lines at which the narrowest strip can be widest."""
    feet = [stop.high for stop in stops if stop.above]
    heads = [stop.low for stop in stops if not stop.above]
    for stop in stops:
        yield from (stop.low, stop.high)
    for foot in feet:
        for head in heads:
            yield from ((foot + head) / 2, (foot + head + width) / 2)


def _balance_fault(value: float, want: float, text: str) -> Fault:
    """Return the fault of the first row."""
    return Fault(rule="balance", where="row 1", value=value, limit=want, text=text, rows=(1,))
