"""The balance rule, seen from the judge's side: which first rips a floor may have.

======== head: the strip below it     Row lines lie at one height modulo the board width; going
- - - -  row line                     round that circle, every stopping line leaves an arc of
======== foot: the strip above it     heights whose strip is wide enough. What all arcs share
                                      is what the rule leaves.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from shapely.geometry import Polygon
from shapely.geometry.polygon import orient

from layout.values.tolerances import RATIO_TOLERANCE, TOUCHING_TOLERANCE

LEAST_RUN = {"in": 2.0, "mm": 50.0}  # edges no longer than this along the rows stop none

Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class _Stop:
    """A stretch of edge that rows end against, over its heights; ``foot``: floor lies above."""

    low: float
    high: float
    foot: bool


def first_rips(floor: Polygon, width: float, least_run: float) -> tuple[Span, ...]:
    """Return the first rips of the balance rule as sorted spans within (0, width].

    ``floor`` with the start side low. A plain floor between two level lines has one: a full first
    row if at least half a board remains across, else the remainder and one board in equal parts.
    Otherwise those that leave every strip half a board or more; where none does, those that leave
    the narrowest strip widest.
    """
    stops = sorted(set(_stops(floor, width, least_run)), key=lambda s: (s.low, s.high, s.foot))
    start = float(floor.bounds[1])
    if not stops:
        return ((0.0, width),)
    if _plain(stops):
        across = _within(stops[1].low - stops[0].high, width)
        first = width if across > width / 2 - TOUCHING_TOLERANCE else (across + width) / 2
        rip = _within(stops[0].high + first - start, width)
        return ((rip, rip),)
    arcs = _shared(stops, width, width / 2 - TOUCHING_TOLERANCE)
    if not arcs:
        widest = max(_narrowest(stops, line, width) for line in _lines(stops, width))
        arcs = _shared(stops, width, widest - TOUCHING_TOLERANCE)
    rips = [rip for arc in arcs for rip in _as_rips(arc, start, width)]
    return tuple(sorted(rip for rip in rips if rip[1] > 2 * TOUCHING_TOLERANCE))


def _stops(floor: Polygon, width: float, least_run: float) -> Iterator[_Stop]:
    """Yield the stopping lines: flat edges that run on one way, taken together."""
    rings = orient(floor)
    for ring in (rings.exterior, *rings.interiors):
        points = [(float(x), float(y)) for x, y in ring.coords[:-1]]
        ways = [_way(a, b) for a, b in pairwise([*points, points[0]])]
        turn = next((i for i in range(len(ways)) if ways[i] != ways[i - 1]), 0)
        points, ways = points[turn:] + points[:turn], ways[turn:] + ways[:turn]
        begin = 0
        for end in range(1, len(ways) + 1):
            if end == len(ways) or ways[end] != ways[begin]:
                if ways[begin]:
                    chain = [points[i % len(points)] for i in range(begin, end + 1)]
                    yield from _stops_of(chain, width, least_run)
                begin = end


def _way(a: tuple[float, float], b: tuple[float, float]) -> int:
    """Return which way an edge flatter than 45 degrees runs, 0 for a steeper one."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    return 0 if abs(dy) >= abs(dx) * (1 - RATIO_TOLERANCE) else (1 if dx > 0 else -1)


def _stops_of(
    chain: Sequence[tuple[float, float]], width: float, least_run: float
) -> Iterator[_Stop]:
    """Yield a chain as one stopping line, or edge by edge where it rises by a board or more."""
    heights = [y for _, y in chain]
    parts = [chain] if max(heights) - min(heights) < width else list(pairwise(chain))
    for part in parts:
        low, high = min(y for _, y in part), max(y for _, y in part)
        along = part[-1][0] - part[0][0]
        if abs(along) > least_run + TOUCHING_TOLERANCE and high - low < width:
            yield _Stop(low, high, along > 0)


def _plain(stops: Sequence[_Stop]) -> bool:
    """Whether a floor lies between two level lines and knows no other."""
    level = all(stop.high - stop.low < TOUCHING_TOLERANCE for stop in stops)
    return len(stops) == 2 and level and stops[0].foot and not stops[1].foot


def _within(value: float, width: float) -> float:
    """Return ``value`` modulo ``width``, within (0, width]."""
    left = value % width
    return width if left < TOUCHING_TOLERANCE or left > width - TOUCHING_TOLERANCE else left


def _narrowest(stops: Sequence[_Stop], line: float, width: float) -> float:
    """Return the narrowest strip for row lines at ``line`` modulo width, 0 if one is crossed."""
    strips = []
    for stop in stops:
        strip = _within(line - stop.high if stop.foot else stop.low - line, width)
        crossed = strip + stop.high - stop.low > width + TOUCHING_TOLERANCE
        strips.append(0.0 if crossed else strip)
    return min(strips)


def _lines(stops: Sequence[_Stop], width: float) -> Iterator[float]:
    """Yield the heights of row lines where the narrowest strip can be widest."""
    for stop in stops:
        yield from (stop.low, stop.high)
    for foot in (stop.high for stop in stops if stop.foot):
        for head in (stop.low for stop in stops if not stop.foot):
            yield from ((foot + head) / 2, (foot + head + width) / 2)


def _shared(stops: Sequence[_Stop], width: float, least: float) -> list[Span]:
    """Return the heights of row lines, modulo width, that leave every strip ``least`` or more."""
    shared: list[Span] = [(0.0, width)]
    for stop in stops:
        rise = stop.high - stop.low
        begin = stop.high + least if stop.foot else stop.low - width + rise
        reach = width - rise - least
        arcs = (
            _unrolled(begin, reach + TOUCHING_TOLERANCE, width)
            if reach > -TOUCHING_TOLERANCE
            else []
        )
        shared = [
            (max(a, c), min(b, d)) for a, b in shared for c, d in arcs if max(a, c) <= min(b, d)
        ]
    return shared


def _unrolled(begin: float, reach: float, width: float) -> list[Span]:
    """Return an arc of the circle as spans within [0, width]."""
    low = begin % width
    high = low + max(reach, 0.0)
    return [(low, high)] if high <= width else [(low, width), (0.0, min(high - width, low))]


def _as_rips(arc: Span, start: float, width: float) -> Iterator[Span]:
    """Yield a span of heights of row lines as spans of first rips."""
    low = _within(arc[0] - start, width)
    high = low + arc[1] - arc[0]
    if high <= width + 2 * TOUCHING_TOLERANCE:
        yield low, min(high, width)
    else:
        yield low, width
        yield 0.0, high - width
