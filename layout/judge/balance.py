"""Judging balance: the widths of the first and the last row, the weakest of the rules.

Where keeping it would break another rule it may give way, with a warning; where a balanced floor
that breaks none is plain to find, it may not.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from shapely.geometry import Polygon

from layout.judge.view import Fault, View
from layout.values.laid_pieces import LaidPiece
from layout.values.outline import Point, polygons_of, ring_area
from layout.values.tolerances import RATIO_TOLERANCE, TOUCHING_TOLERANCE


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
    if _level_pair(stops):
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


def balanced_lines(view: View, part: Polygon) -> list[float]:
    """Return heights of row lines, modulo the board's width, that keep the balance rule.

    The first of those that stand for all; nothing where no wall stops a row.
    """
    width = view.request.product.board.width
    stops = _stops(part, width, view.least_run)
    if not stops:
        return []
    if _level_pair(stops):
        foot, head = stops[0].low, stops[1].low
        _, want = _plain(foot, head, foot, width, view)
        return [foot + want if view.from_low else head - want]
    best = max(_narrowest(stops, at, width) for at in _choices(stops, width))
    want = min(best, width / 2) - TOUCHING_TOLERANCE
    return [at for at in _choices(stops, width) if _narrowest(stops, at, width) >= want]


def _level_pair(stops: Sequence[_WallStretch]) -> bool:
    """Whether rows stop at two level lines alone, one at either side."""
    two = len(stops) == 2 and stops[0].above and not stops[1].above
    return two and all(stop.high - stop.low < TOUCHING_TOLERANCE for stop in stops)


def _plain(foot: float, head: float, line: float, width: float, view: View) -> tuple[float, float]:
    """Return the width of the first row found and the one that the rule asks for."""
    across = head - foot
    remainder = across % width
    # A remainder that may count as none, or be shared; rounding may make none a whole board.
    hardly = remainder < view.near or remainder > width - TOUCHING_TOLERANCE
    remainder = 0.0 if remainder > width - TOUCHING_TOLERANCE else remainder
    shared = (remainder + width) / 2
    if remainder > width - view.near or hardly:
        remainder = width
    value = (line - foot) % width if view.from_low else (head - line) % width
    if value < view.near or value > width - view.near:
        value = width
    want = width if remainder >= width / 2 else shared
    # Half a board, or none, within what is measured: either.
    if hardly or abs(remainder - width / 2) <= view.near:
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
