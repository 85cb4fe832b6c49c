"""Level lines across a floor: where they begin and end, and how short an end piece may be there.

y + W  ----a=========b------    lines one board width apart; each crosses the region
y      --a====b---a=====b---    in stretches from a wall (or hole) to a wall
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import ceil, inf

import shapely
from shapely.geometry import Polygon

from layout.values.tolerances import (
    BAND_EDGE_SHARE,
    BAND_TOLERANCE,
    COINCIDENT_TOLERANCE,
    LINE_TOLERANCE,
    ROW_EDGE_TOLERANCE,
    STRETCH_SHARE,
)

Span = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A stretch of a level line inside the floor.

    A first piece on it, where a joint follows, is at least ``least_left`` long on the line; a
    last piece at least ``least_right``. ``gap_before`` is the way back to the stretch before it
    on the same level (infinite for the first).
    """

    y: float
    left: float
    right: float
    least_left: float
    least_right: float
    gap_before: float = inf

    @property
    def length(self) -> float:
        """The way from wall to wall."""
        return self.right - self.left

    def any_ends(self) -> Line:
        """Return the line without its shortest end pieces, where they leave no way to cut it."""
        return replace(self, least_left=0.0, least_right=0.0)

    def shorter(self, by: float) -> Line:
        """Return the line with ``by`` taken off both ends, and off what its end pieces keep."""
        return replace(
            self,
            left=self.left + by,
            right=self.right - by,
            least_left=max(0.0, self.least_left - 2 * by),
            least_right=max(0.0, self.least_right - 2 * by),
        )


def lines_at(
    polygon: Polygon,
    phase: float,
    width: float,
    least_end: float,
    *,
    hidden: float = 0.0,
    rows_at: tuple[float, float] | None = None,
) -> list[Line]:
    """Return the stretches inside ``polygon`` of the level lines at ``phase`` plus whole widths.

    ``least_end`` is the shortest end piece along its row. Row lines lie between ``rows_at`` modulo
    the width, or anywhere: an end piece may begin as far out as the floor reaches within the rows
    that a line may fall into (``hidden`` further where cover hides bare floor); where the floor
    there has more ends than one on a side, nothing is said. Stretches shorter than a hundred
    thousandth of a width are left out.
    """
    left, low, right, high = polygon.bounds
    below, above = _reach(phase, width, rows_at)
    lines: list[Line] = []
    for level in range(ceil((low - phase) / width), ceil((high - phase) / width) + 1):
        y = phase + level * width
        spans = [span for span in _spans(polygon, y) if span[1] - span[0] > STRETCH_SHARE * width]
        parts: list[Polygon] = []
        if spans and least_end > 0:
            band = shapely.box(left - 1, y - below, right + 1, y + above)
            parts = _polygons(polygon.intersection(band))
        for i, span in enumerate(spans):
            ends = _least_ends(parts, y, span, least_end, hidden)
            lines.append(
                Line(
                    y=y,
                    left=span[0],
                    right=span[1],
                    least_left=ends[0],
                    least_right=ends[1],
                    gap_before=span[0] - spans[i - 1][1] if i else inf,
                )
            )
    return lines


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """A range of heights, ``rise`` high, and lines that every level line in it contains."""

    rise: float
    lines: tuple[Line, ...]


SLICES = 8  # bands in which slanted walls are cut between two corners


def bands_of(polygon: Polygon, reach: float, least_end: float, hidden: float = 0.0) -> list[Band]:
    """Return the bands of ``polygon``, cut where a corner lies and, on slants, between.

    A row that a line falls into reaches at most ``reach`` below and above it; ``least_end`` and
    ``hidden`` as in ``lines_at``.
    """
    left, low, right, high = polygon.bounds
    edges = _edges(polygon)
    heights = sorted({low, high, *(edge[1] for edge in edges)})
    bands: list[Band] = []
    for y0, y1 in pairwise(heights):
        slanted = any(_slants(edge, y0, y1) for edge in edges)
        steps = SLICES if slanted else 1
        for i in range(steps):
            foot, head = (y0 + (y1 - y0) * k / steps for k in (i, i + 1))
            if head - foot > BAND_TOLERANCE:
                near = shapely.box(left - 1, foot - reach, right + 1, head + reach)
                parts = _polygons(polygon.intersection(near))
                lines = _common(polygon, foot, head, parts, least_end, hidden)
                bands.append(Band(rise=head - foot, lines=lines))
    return bands


def _slants(edge: tuple[float, float, float, float], low: float, high: float) -> bool:
    """Whether an edge crosses a band and is not upright."""
    ax, ay, bx, by = edge
    return (
        ax != bx
        and min(ay, by) < high - BAND_TOLERANCE / 2
        and max(ay, by) > low + BAND_TOLERANCE / 2
    )


def _common(
    polygon: Polygon,
    low: float,
    high: float,
    parts: Sequence[Polygon],
    least_end: float,
    hidden: float,
) -> tuple[Line, ...]:
    """Return what all level lines of a band without corners have in common."""
    edge = (high - low) * BAND_EDGE_SHARE
    feet, heads = _spans(polygon, low + edge), _spans(polygon, high - edge)
    lines: list[Line] = []
    middle = (low + high) / 2
    for i, (foot, head) in enumerate(zip(feet, heads, strict=True)):
        # What the edges lean in the thousandth left out at either side.
        lean = [abs(a - b) * 2 * BAND_EDGE_SHARE for a, b in zip(foot, head, strict=True)]
        span = max(foot[0], head[0]) + lean[0], min(foot[1], head[1]) - lean[1]
        if span[1] - span[0] <= BAND_TOLERANCE:
            continue
        ends = _least_ends(parts, middle, span, least_end, hidden) if least_end > 0 else (0.0, 0.0)
        gaps = [row[i][0] - row[i - 1][1] - 2 * sum(lean) for row in (feet, heads)] if i else [inf]
        lines.append(
            Line(
                y=middle,
                left=span[0],
                right=span[1],
                least_left=ends[0],
                least_right=ends[1],
                gap_before=max(0.0, min(gaps)),
            )
        )
    return tuple(lines)


def length_at(polygon: Polygon, phase: float, width: float) -> float:
    """Return how much of the level lines at ``phase`` plus whole widths lies inside."""
    _, low, _, high = polygon.bounds
    levels = range(ceil((low - phase) / width), ceil((high - phase) / width) + 1)
    return sum(b - a for level in levels for a, b in _spans(polygon, phase + level * width))


def _reach(phase: float, width: float, rows_at: tuple[float, float] | None) -> tuple[float, float]:
    """Return how far the row that a line falls into may reach below and above it."""
    if rows_at is None:
        return width, width
    farthest, nearest = ((phase - line) % width for line in rows_at)
    if nearest > farthest + LINE_TOLERANCE or rows_at[1] - rows_at[0] >= width:
        return width, width
    return farthest - ROW_EDGE_TOLERANCE, width - nearest - ROW_EDGE_TOLERANCE


def _spans(polygon: Polygon, y: float) -> list[Span]:
    """Return the stretches of the level line just above ``y`` that lie inside, left to right."""
    crossings: list[float] = []
    for ring in (polygon.exterior, *polygon.interiors):
        for (ax, ay), (bx, by) in pairwise(ring.coords):
            if (ay <= y) != (by <= y):
                crossings.append(ax + (bx - ax) * (y - ay) / (by - ay))
    crossings.sort()
    return list(zip(crossings[::2], crossings[1::2], strict=True))


def _least_ends(
    parts: Sequence[Polygon], y: float, span: Span, least_end: float, hidden: float
) -> tuple[float, float]:
    """Return the shortest first and last piece on a stretch; ``parts``: the rows it may be in."""
    for part in parts:
        x0, low, x1, high = part.bounds
        if x0 > span[0] + LINE_TOLERANCE or x1 < span[1] - LINE_TOLERANCE:
            continue
        if not any(
            s[0] <= span[0] + LINE_TOLERANCE and s[1] >= span[1] - LINE_TOLERANCE
            for s in _spans(part, y)
        ):
            continue
        near_left = shapely.box(x0 - 1, low - 1, span[0] + least_end, high + 1)
        near_right = shapely.box(span[1] - least_end, low - 1, x1 + 1, high + 1)
        out_left, out_right = span[0] - x0 + hidden, x1 - span[1] + hidden
        return (
            least_end - out_left if out_left < least_end and _one_end(part, near_left) else 0.0,
            least_end - out_right if out_right < least_end and _one_end(part, near_right) else 0.0,
        )
    return 0.0, 0.0


def _polygons(shape: shapely.Geometry) -> list[Polygon]:
    """Return the polygons of a shape."""
    parts = getattr(shape, "geoms", [shape])
    return [part for part in parts if isinstance(part, Polygon) and not part.is_empty]


def _one_end(part: Polygon, near: Polygon) -> bool:
    """Whether rows in ``part`` have one end only near a wall: level lines cross it once."""
    if len(part.exterior.coords) == 5 and not part.interiors:
        return True
    near_parts = _polygons(part.intersection(near))
    return len(near_parts) == 1 and _level(near_parts[0])


def _level(part: Polygon) -> bool:
    """Whether every level line crosses ``part`` in one stretch at most."""
    if part.interiors:
        return False
    heights = [y for _, y in part.exterior.coords[:-1]]
    return _turns(heights) <= 2


def _turns(heights: Sequence[float]) -> int:
    """Return how often a closed walk changes between rising and falling."""
    steps = [b - a for a, b in pairwise([*heights, heights[0]]) if abs(b - a) > LINE_TOLERANCE]
    return sum((a > 0) != (b > 0) for a, b in pairwise([*steps, steps[0]])) if steps else 0


Linked = list[tuple[Line, int | None]]


def linked(polygon: Polygon, lines: Sequence[Line], width: float, reach: float) -> Linked:
    """Return the lines level by level, each with the place of the line below it is tied to.

    That is the line of the level below with which it shares the longest clear stretch, longer
    than ``reach``: all of the floor between the two levels over that stretch.
    """
    edges = _edges(polygon)
    ordered = sorted(lines, key=lambda line: (line.y, line.left))
    levels: dict[int, list[int]] = defaultdict(list)
    for place, line in enumerate(ordered):
        levels[round((line.y - ordered[0].y) / width)].append(place)
    ties: list[int | None] = [None] * len(ordered)
    for level, places in levels.items():
        below = levels.get(level - 1, [])
        between = _between(edges, ordered[below[0]].y, ordered[places[0]].y) if below else []
        for place in places:
            shared = [(_clear(between, ordered[low], ordered[place]), low) for low in below]
            longest, low = max(shared, default=(0.0, 0))
            if longest > reach:
                ties[place] = low
    return list(zip(ordered, ties, strict=True))


Edges = Sequence[tuple[float, float, float, float]]


def _edges(polygon: Polygon) -> Edges:
    """Return the edges of a polygon."""
    return [
        (ax, ay, bx, by)
        for ring in (polygon.exterior, *polygon.interiors)
        for (ax, ay), (bx, by) in pairwise(ring.coords)
    ]


def _between(edges: Edges, low: float, high: float) -> list[Span]:
    """Return the extents along the lines of what edges have between two levels, sorted."""
    return sorted(
        _within(edge, low, high)
        for edge in edges
        if min(edge[1], edge[3]) <= high and max(edge[1], edge[3]) >= low
    )


def _clear(between: Sequence[Span], low: Line, high: Line) -> float:
    """Return the longest stretch of two lines over which no edge comes between them."""
    left, right = max(low.left, high.left), min(low.right, high.right)
    longest, at = 0.0, left
    for start, end in between:
        longest = max(longest, min(start, right) - at)
        at = max(at, end)
    return max(longest, right - at)


def _within(
    edge: tuple[float, float, float, float], low: float, high: float
) -> tuple[float, float]:
    """Return the extent along the lines of the part of an edge between two levels."""
    ax, ay, bx, by = edge
    if abs(by - ay) > COINCIDENT_TOLERANCE:
        at = sorted((min(max((y - ay) / (by - ay), 0.0), 1.0)) for y in (low, high))
        ax, bx = ax + (bx - ax) * at[0], ax + (bx - ax) * at[1]
    return min(ax, bx), max(ax, bx)
