"""How wide the strips at the walls come out: stopping lines and the balance rule.

A *stopping line* is a stretch of the region's edge that rows end against: less than 45 degrees
off the rows, more than 2 in (50 mm) long. The strip at it reaches to the nearest row line inside.
The balance rule fixes or narrows the *first rip*, the width of row 1.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from shapely.geometry.polygon import orient

from layout.values.outline import Point, Region, polygons_of
from layout.values.tolerances import (
    RATIO_TOLERANCE,
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


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedStrip:
    """What a first rip leaves and what the balance rule wants of it, as widths.

    On a ``plain`` floor, between two level stopping lines: of the first row. Otherwise: of the
    narrowest strip at any stopping line.
    """

    width: float
    wanted: float
    plain: bool


def wanted_strip(
    region: Region, width: float, least_run: float, first_rip: float, near: float = 0.0
) -> WantedStrip:
    """Return what a first rip leaves beside what the balance rule wants.

    Where a remainder can't be told from none, or from half a board, by a difference of ``near``,
    a plain floor may do either: what comes nearest is wanted.
    """
    lines = stopping_lines(region, width, least_run)
    start = float(region.bounds[1])
    if len(lines) == 2 and _level_pair(lines):
        across, offset = lines[1].low - lines[0].low, lines[0].low - start
        have = min(_wrapped(first_rip - offset, width), across)
        remainder = across % width
        either = remainder < near or remainder > width - TOUCHING_TOLERANCE
        either = bool(near) and (either or abs(remainder - width / 2) <= near)
        ways = (width, (_unwrapped(remainder, width) + width) / 2)
        first = min(ways, key=lambda way: abs(have - way)) if either else _first_row(across, width)
        return WantedStrip(width=have, wanted=min(first, across), plain=True)
    circle = _Circle(lines, width)
    have = circle.narrowest(start + first_rip)
    return WantedStrip(width=have, wanted=min(circle.widest(), width / 2), plain=False)


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
    rip = _wrapped(offset + _first_row(across, width), width)
    return rip, rip


def _first_row(across: float, width: float) -> float:
    """Return the width of the first row of a plain floor: full, or as wide as the last one."""
    remainder = _wrapped(across, width)
    return width if remainder > width / 2 - TOUCHING_TOLERANCE else (remainder + width) / 2


def _wrapped(value: float, width: float) -> float:
    """Return ``value`` modulo ``width``, within (0, width]."""
    left = value % width
    return width if left < TOUCHING_TOLERANCE or left > width - TOUCHING_TOLERANCE else left


def _unwrapped(remainder: float, width: float) -> float:
    """Return a remainder, none where rounding makes it a whole board."""
    return 0.0 if remainder > width - TOUCHING_TOLERANCE else remainder


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
