"""A depth survey as contours over its room, as SVG: each line runs where the floor is equally low.

Between the readings the depth is weighed by the inverse square of the distance (D. Shepard, A
two-dimensional interpolation function for irregularly-spaced data, ACM National Conference 1968),
so that a reading itself is met and no place is lower than the lowest of them. The room is divided
into triangles, and a line is drawn straight through each.

    +-------------+
    |   .-1/8-.   |
    |  ( 1/4 x )  |      x  a reading, its depth beside it
    |   '-----'   |
    +-------------+
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shapely.geometry import LineString, MultiLineString, Polygon
from shapely.ops import linemerge

from layout.drawing.pictures.frame import FIGURE_MM, RoomFrame
from layout.drawing.true_size import FINE, THIN
from layout.values.outline import Point, Ring
from layout.values.units import INCH, length_words

_CELLS = 40  # along the longer side of the room
_MOST_LINES = 5
_STEPS = {
    "in": (1 / 16, 1 / 8, 1 / 4, 1 / 2, 1.0, 2.0),
    "mm": (1.0, 2.0, 5.0, 10.0, 20.0, 50.0),
}
_CROSS = 1.4


@dataclass(frozen=True, slots=True, kw_only=True)
class SurveyMark:
    """A reading: a place in the room and how low the floor lies there, in one unit."""

    x: float
    y: float
    low: float


def depth_at(marks: Sequence[SurveyMark], place: Point) -> float:
    """Return how low the floor lies at a place, by all readings."""
    weighed, weights = 0.0, 0.0
    for mark in marks:
        square = (mark.x - place[0]) ** 2 + (mark.y - place[1]) ** 2
        if square == 0:
            return mark.low
        weighed += mark.low / square
        weights += 1 / square
    return weighed / weights


def levels_of(marks: Sequence[SurveyMark], unit: str) -> tuple[float, ...]:
    """Return the depths at which lines are drawn: a round step apart, at most five of them."""
    least, most = min(mark.low for mark in marks), max(mark.low for mark in marks)
    for step in _STEPS[unit]:
        first = math.floor(least / step) + 1
        levels = tuple(step * k for k in range(first, math.ceil(most / step)))
        if len(levels) <= _MOST_LINES:
            return levels
    return ()


def contours_of(
    marks: Sequence[SurveyMark], outline: Ring, *, unit: str
) -> dict[float, tuple[tuple[Point, ...], ...]]:
    """Return the lines inside the room by their depth, the shallowest first."""
    levels = levels_of(marks, unit)
    if not levels:
        return {}
    segments: dict[float, list[LineString]] = defaultdict(list)
    for triangle in _triangles(marks, outline):
        for level in levels:
            if crossed := _crossed(triangle, level):
                segments[level].append(LineString(crossed))
    room = Polygon(outline)
    return {level: tuple(_within(segments[level], room)) for level in levels}


def draw_contours(marks: Sequence[SurveyMark], outline: Ring, *, unit: str, title: str) -> str:
    """Return the room with a line for each depth, and every reading with its depth in words."""
    frame = RoomFrame([outline], name="contours")
    lines = contours_of(marks, outline, unit=unit)
    for level, parts in lines.items():
        for part in parts:
            frame.sheet.line([frame.at(point) for point in part], name="contour", weight=THIN)
        if parts:
            longest = max(parts, key=lambda part: float(LineString(part).length))
            middle = frame.at(longest[len(longest) // 2])
            words = _words(level, unit)
            frame.sheet.words(middle, words, size=FIGURE_MM, anchor="middle", name="level")
    frame.walls(outline)
    for mark in marks:
        _draw_mark(frame, mark, unit)
    readings = ", ".join(_words(mark.low, unit) for mark in marks)
    drawn = ", ".join(_words(level, unit) for level in lines)
    return frame.sheet.svg(title, f"Readings {readings}; lines at {drawn or 'no depth'}.")


def _draw_mark(frame: RoomFrame, mark: SurveyMark, unit: str) -> None:
    """Draw a reading as a cross, its depth beside it."""
    x, y = frame.at((mark.x, mark.y))
    for ends in ([(x - _CROSS, y), (x + _CROSS, y)], [(x, y - _CROSS), (x, y + _CROSS)]):
        frame.sheet.line(ends, name="reading", weight=FINE)
    aside = (1, "start") if x < frame.sheet.wide / 2 else (-1, "end")
    frame.sheet.words(
        (x + 2 * aside[0], y + 3.2),
        _words(mark.low, unit),
        size=FIGURE_MM,
        anchor=aside[1],
        name="depth",
        bold=True,
    )


def _words(low: float, unit: str) -> str:
    return "0" if low < INCH[unit] / 64 else length_words(low, unit, on_tape=True)


Triangle = tuple[tuple[Point, float], ...]


def _triangles(marks: Sequence[SurveyMark], outline: Ring) -> Iterator[Triangle]:
    """Yield triangles that cover the room, each corner with its depth."""
    x0, y0, x1, y1 = Polygon(outline).bounds
    cell = max(x1 - x0, y1 - y0) / _CELLS
    across, up = math.ceil((x1 - x0) / cell), math.ceil((y1 - y0) / cell)
    net = {
        (i, j): ((x0 + i * cell, y0 + j * cell), depth_at(marks, (x0 + i * cell, y0 + j * cell)))
        for i in range(across + 1)
        for j in range(up + 1)
    }
    for i in range(across):
        for j in range(up):
            a, b, c, d = net[i, j], net[i + 1, j], net[i + 1, j + 1], net[i, j + 1]
            yield a, b, c
            yield a, c, d


def _crossed(triangle: Triangle, level: float) -> list[Point]:
    """Return where a level crosses the sides of a triangle: at two of them or at none."""
    crossed = []
    for one, other in zip(triangle, (*triangle[1:], triangle[0]), strict=True):
        # Sides are walked one way, so that neighbors meet at the very same point.
        (a, low), (b, high) = sorted((one, other))
        if (low < level) != (high < level):
            part = (level - low) / (high - low)
            crossed.append((a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1])))
    return crossed


def _within(segments: Sequence[LineString], room: Polygon) -> Iterator[tuple[Point, ...]]:
    """Yield what of the segments lies in the room, joined to lines."""
    merged = linemerge(MultiLineString(list(segments))) if segments else MultiLineString()
    inside = merged.intersection(room)
    for part in getattr(inside, "geoms", [inside]):
        if isinstance(part, LineString) and not part.is_empty:
            yield tuple((float(x), float(y)) for x, y in part.coords)
