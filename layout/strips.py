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

from layout.outline import Point, Region, polygons_of

LEAST_RUN = {"in": 2.0, "mm": 50.0}  # slivers shorter than this are no slivers

_CRUMB = 1e-6

Span = tuple[float, float]


@dataclass(frozen=True, slots=True, order=True)
class StoppingLine:
    """The height range of a stretch of edge that rows end against; ``above``: floor lies above."""

    low: float
    high: float
    above: bool


def stopping_lines(region: Region, width: float, least_run: float) -> tuple[StoppingLine, ...]:
    """Return the stopping lines of a region (working frame) for boards of ``width``.

    Neighbouring flat edges make one line, unless they rise by a board or more between them; an
    edge that rises by a board or more crosses row lines wherever they lie and is none.
    """
    found: set[StoppingLine] = set()
    for polygon in polygons_of(region):
        ring_set = orient(polygon)
        for ring in (ring_set.exterior, *ring_set.interiors):
            for chain in _flat_chains(list(ring.coords)):
                found.update(_lines(chain, width, least_run))
    return tuple(sorted(found))


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
    if abs(dy) >= abs(dx) * (1 - 1e-9):
        return 0
    return 1 if dx > 0 else -1


def _lines(chain: Sequence[Point], width: float, least_run: float) -> Iterator[StoppingLine]:
    """Yield the stopping lines of a chain: one, or one an edge where it rises by a board."""
    heights = [y for _, y in chain]
    parts = [chain] if max(heights) - min(heights) < width else list(pairwise(chain))
    for part in parts:
        low, high = min(y for _, y in part), max(y for _, y in part)
        if abs(part[-1][0] - part[0][0]) > least_run + _CRUMB and high - low < width:
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
        spans = circle.spans_at_least(circle.widest() - _CRUMB)
    return _as_rips(spans, start, width)


def narrowest_strip(region: Region, width: float, least_run: float, first_rip: float) -> float:
    """Return the width of the narrowest strip at any stopping line; ``width`` if all are full."""
    lines = stopping_lines(region, width, least_run)
    return _Circle(lines, width).narrowest(float(region.bounds[1]) + first_rip)


def _level_pair(lines: Sequence[StoppingLine]) -> bool:
    """Whether two lines are the level start and end of a plain floor."""
    level = all(line.high - line.low < _CRUMB for line in lines)
    return level and lines[0].above and not lines[1].above


def _shared(offset: float, across: float, width: float) -> Span:
    """Return the one first rip for two level lines; ``offset``: floor below the first line."""
    remainder = _wrapped(across, width)
    first = width if remainder > width / 2 - _CRUMB else (remainder + width) / 2
    rip = _wrapped(offset + first, width)
    return rip, rip


def _wrapped(value: float, width: float) -> float:
    """Return ``value`` modulo ``width``, within (0, width]."""
    left = value % width
    return width if left < _CRUMB or left > width - _CRUMB else left


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
                rising = min(rising, strip if strip <= self.width - rise + _CRUMB else 0.0)
            else:
                strip = _wrapped(line.low - line_at, self.width)
                falling = min(falling, strip if strip <= self.width - rise + _CRUMB else 0.0)
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
        spans = [(m, m) for m in self.marks if self.narrowest(m) >= least - _CRUMB]
        for a, b, falling, rising in self._pieces():
            if min(falling, rising) > 0:
                middle = (a + b) / 2
                low = max(a, middle + least - rising) if self._feet else a
                high = min(b, middle + falling - least) if self._heads else b
                if low <= high + _CRUMB:
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
        if over > _CRUMB:
            parts += [(rip, width), (_CRUMB, over)]
        else:
            parts.append((rip, min(width, rip + high - low)))
    joined: list[Span] = []
    for low, high in sorted(parts):
        if joined and low <= joined[-1][1] + 2 * _CRUMB:
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


def slivers(shape: Polygon, limit: float, least_run: float) -> tuple[Sliver, ...]:
    """Return where ``shape`` is narrower across the row than ``limit`` over ``least_run``."""
    slabs = list(_slabs(shape))
    return tuple(
        Sliver(x0=x0, x1=x1, width=_narrow_width(slabs, x0, x1, limit, least_run))
        for x0, x1 in _narrow(slabs, limit)
        if x1 - x0 > least_run + 1e-4
    )


def _slabs(shape: Polygon) -> Iterator[tuple[float, float, float, float]]:
    """Yield (x0, x1, chord at x0, chord at x1) of every chord between neighbouring corners."""
    edges = [
        (a, b) if a[0] < b[0] else (b, a)
        for ring in (shape.exterior, *shape.interiors)
        for a, b in pairwise(ring.coords)
        if abs(a[0] - b[0]) > _CRUMB
    ]
    corners = sorted({x for edge in edges for x in (edge[0][0], edge[1][0])})
    for x0, x1 in pairwise(corners):
        if x1 - x0 > _CRUMB:
            over = [
                edge for edge in edges if edge[0][0] <= x0 + _CRUMB and edge[1][0] >= x1 - _CRUMB
            ]
            sides = sorted((_height(edge, x0), _height(edge, x1)) for edge in over)
            sides.sort(key=sum)
            for low, high in zip(sides[::2], sides[1::2], strict=False):
                yield x0, x1, high[0] - low[0], high[1] - low[1]


def _height(edge: tuple[Point, Point], x: float) -> float:
    """Return the height of an edge at ``x``."""
    (ax, ay), (bx, by) = edge
    return ay + (by - ay) * (x - ax) / (bx - ax)


def _narrow(slabs: Iterable[tuple[float, float, float, float]], limit: float) -> list[Span]:
    """Return the joined spans where some chord is narrower than ``limit``."""
    spans = []
    for x0, x1, at0, at1 in slabs:
        if at0 >= limit - 1e-4 and at1 >= limit - 1e-4:
            continue
        low, high = x0, x1
        if at0 >= limit:
            low = x0 + (x1 - x0) * (at0 - limit) / (at0 - at1)
        elif at1 >= limit:
            high = x0 + (x1 - x0) * (limit - at0) / (at1 - at0)
        spans.append((low, high))
    joined: list[Span] = []
    for low, high in sorted(spans):
        if joined and low <= joined[-1][1] + _CRUMB:
            joined[-1] = (joined[-1][0], max(joined[-1][1], high))
        else:
            joined.append((low, high))
    return joined


def _narrow_width(
    slabs: Sequence[tuple[float, float, float, float]],
    x0: float,
    x1: float,
    limit: float,
    least_run: float,
) -> float:
    """Return the least width that some stretch of ``least_run`` within [x0, x1] does not pass."""
    inside = [slab for slab in slabs if slab[0] < x1 and slab[1] > x0]
    low, high = 0.0, limit
    for _ in range(24):
        middle = (low + high) / 2
        if any(v - u > least_run for u, v in _narrow(inside, middle)):
            high = middle
        else:
            low = middle
    return high
