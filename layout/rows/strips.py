"""How wide the strips at the walls come out: stopping lines, the balance rule, slivers.

A *stopping line* is a stretch of the region's edge that rows end against: less than 45 degrees
off the rows, more than 2 in (50 mm) long. The strip at it reaches to the nearest row line inside.
The balance rule fixes or narrows the *first rip*, the width of row 1. A *sliver* is a strip
narrower than the rule over more than 2 in (50 mm) of length.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from shapely.geometry import Polygon
from shapely.geometry.polygon import orient

from layout.values.outline import Point, Region, polygons_of
from layout.values.tolerances import (
    RATIO_TOLERANCE,
    RUN_TOLERANCE_SHARE,
    STRETCH_TOLERANCE,
    TOUCHING_TOLERANCE,
)

LEAST_RUN = {"in": 2.0, "mm": 50.0}  # slivers shorter than this are no slivers

Span = tuple[float, float]


@dataclass(frozen=True, slots=True, order=True)
class StoppingLine:
    """The height range of a stretch of edge that rows end against; ``above``: floor lies above."""

    low: float
    high: float
    above: bool


def stopping_lines(region: Region, width: float, least_run: float) -> tuple[StoppingLine, ...]:
    """Return the stopping lines of a region (working frame) for boards of ``width``.

    Neighboring flat edges make one line, unless they rise by a board or more between them; an
    edge that rises by a board or more crosses row lines wherever they lie and is none.
    """
    lines: set[StoppingLine] = set()
    for polygon in polygons_of(region):
        ring_set = orient(polygon)
        for ring in (ring_set.exterior, *ring_set.interiors):
            for chain in _flat_chains(list(ring.coords)):
                lines.update(_lines(chain, width, least_run))
    return tuple(sorted(lines))


def _flat_chains(points: Sequence[Point]) -> Iterator[list[Point]]:
    """Yield the longest chains of flat edges that run one way along a closed ring."""
    steps = [_step(a, b) for a, b in pairwise(points)]
    if not steps:
        return
    # Begin where the step changes, so that no chain is cut at the ring's first corner.
    begin = next((i for i, step in enumerate(steps) if step != steps[i - 1]), 0)
    chain: list[Point] = []
    for k in range(len(steps)):
        i = (begin + k) % len(steps)
        if chain and steps[i] != steps[i - 1]:
            yield chain
            chain = []
        if steps[i]:
            chain = [*(chain or [points[i]]), points[i + 1]]
    if chain:
        yield chain


def _step(a: Point, b: Point) -> int:
    """Return 1 or -1 for an edge flat enough to stop rows, by its way along x; else 0."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    if abs(dy) >= abs(dx) * (1 - RATIO_TOLERANCE):
        return 0
    return 1 if dx > 0 else -1


def _lines(chain: Sequence[Point], width: float, least_run: float) -> Iterator[StoppingLine]:
    """Yield the stopping lines of a chain: one, or one an edge where it rises by a board."""
    heights = [y for _, y in chain]
    parts = [chain] if max(heights) - min(heights) < width else list(pairwise(chain))
    for part in parts:
        low, high = min(y for _, y in part), max(y for _, y in part)
        if abs(part[-1][0] - part[0][0]) > least_run + TOUCHING_TOLERANCE and high - low < width:
            yield StoppingLine(low, high, part[-1][0] > part[0][0])


def allowed_first_rips(
    region: Region, width: float, least_run: float, *, balance: bool, min_width: float
) -> tuple[Span, ...]:
    """Return the first rips that the balance rule leaves, as sorted spans within (0, width].

    Two level stopping lines: a full first row if what remains across is at least half a board,
    else the remainder and one board shared equally. Otherwise every first rip that keeps each
    strip at least half a board (``min_width`` without ``balance``); where none does, those that
    keep the narrowest strip widest. A span may be a single value.
    """
    lines = stopping_lines(region, width, least_run)
    start = float(region.bounds[1])
    if balance and len(lines) == 2 and _level_pair(lines):
        return (_shared(lines[0].low - start, lines[1].low - lines[0].low, width),)
    circle = _Circle(lines, width)
    spans = circle.spans_at_least(width / 2 if balance else min_width)
    if not spans:
        spans = circle.spans_at_least(circle.widest() - TOUCHING_TOLERANCE)
    return _as_rips(spans, start, width)


def narrowest_strip(region: Region, width: float, least_run: float, first_rip: float) -> float:
    """Return the width of the narrowest strip at any stopping line; ``width`` if all are full."""
    lines = stopping_lines(region, width, least_run)
    return _Circle(lines, width).narrowest(float(region.bounds[1]) + first_rip)


def _level_pair(lines: Sequence[StoppingLine]) -> bool:
    """Whether two lines are the level start and end of a plain floor."""
    level = all(line.high - line.low < TOUCHING_TOLERANCE for line in lines)
    return level and lines[0].above and not lines[1].above


def _shared(offset: float, across: float, width: float) -> Span:
    """Return the one first rip for two level lines; ``offset``: floor below the first line."""
    remainder = _wrapped(across, width)
    first = width if remainder > width / 2 - TOUCHING_TOLERANCE else (remainder + width) / 2
    rip = _wrapped(offset + first, width)
    return rip, rip


def _wrapped(value: float, width: float) -> float:
    """Return ``value`` modulo ``width``, within (0, width]."""
    left = value % width
    return width if left < TOUCHING_TOLERANCE or left > width - TOUCHING_TOLERANCE else left


class _Circle:
    """The narrowest strip as a function of where row lines lie, modulo the board width."""

    def __init__(self, lines: Sequence[StoppingLine], width: float) -> None:
        self.lines = lines
        self.width = width
        marks = {round(y % width, 9) % width for line in lines for y in (line.low, line.high)}
        self.marks = sorted(marks) or [0.0]

    def narrowest(self, line_at: float) -> float:
        """Return the narrowest strip for row lines at ``line_at`` modulo the width."""
        falling, rising = self._sides(line_at)
        return min(falling, rising, self.width)

    def _sides(self, line_at: float) -> tuple[float, float]:
        """Return the narrowest strip below heads and above feet; 0 where a line is crossed."""
        falling = rising = self.width
        for line in self.lines:
            rise = line.high - line.low
            if line.above:
                strip = _wrapped(line_at - line.high, self.width)
                rising = min(
                    rising, strip if strip <= self.width - rise + TOUCHING_TOLERANCE else 0.0
                )
            else:
                strip = _wrapped(line.low - line_at, self.width)
                falling = min(
                    falling, strip if strip <= self.width - rise + TOUCHING_TOLERANCE else 0.0
                )
        return falling, rising

    def _pieces(self) -> Iterator[tuple[float, float, float, float]]:
        """Yield stretches between marks with the strips on both sides at their middle."""
        for a, b in pairwise([*self.marks, self.marks[0] + self.width]):
            yield a, b, *self._sides((a + b) / 2)

    def widest(self) -> float:
        """Return the narrowest strip at its widest."""
        best = max(self.narrowest(mark) for mark in self.marks)
        for a, b, falling, rising in self._pieces():
            if min(falling, rising) > 0:
                best = max(best, min(falling, rising, (falling + rising) / 2, self.width))
                shift = max(min((falling - rising) / 2, (b - a) / 2), (a - b) / 2)
                best = max(best, min(falling - shift, rising + shift, self.width))
        return best

    def spans_at_least(self, least: float) -> list[Span]:
        """Return where the narrowest strip is ``least`` or more, spans may pass the width."""
        spans = [(m, m) for m in self.marks if self.narrowest(m) >= least - TOUCHING_TOLERANCE]
        for a, b, falling, rising in self._pieces():
            if min(falling, rising) > 0:
                middle = (a + b) / 2
                low = max(a, middle + least - rising) if self._feet else a
                high = min(b, middle + falling - least) if self._heads else b
                if low <= high + TOUCHING_TOLERANCE:
                    spans.append((low, max(low, high)))
        return spans

    @property
    def _feet(self) -> bool:
        return any(line.above for line in self.lines)

    @property
    def _heads(self) -> bool:
        return any(not line.above for line in self.lines)


def _as_rips(spans: Iterable[Span], start: float, width: float) -> tuple[Span, ...]:
    """Return spans of row line heights as spans of first rips within (0, width], joined."""
    parts: list[Span] = []
    for low, high in spans:
        rip = _wrapped(low - start, width)
        over = rip + (high - low) - width
        if over > TOUCHING_TOLERANCE:
            parts += [(rip, width), (TOUCHING_TOLERANCE, over)]
        else:
            parts.append((rip, min(width, rip + high - low)))
    joined: list[Span] = []
    for low, high in sorted(parts):
        if joined and low <= joined[-1][1] + 2 * TOUCHING_TOLERANCE:
            joined[-1] = (joined[-1][0], max(joined[-1][1], high))
        else:
            joined.append((low, high))
    return tuple(joined)


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
    thin = [t for slab in _slabs(shape) if (t := slab.thinned(limit - rough)) is not None]
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
