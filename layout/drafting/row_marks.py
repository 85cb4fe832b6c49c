"""Row marks, the story stick: every row line from every stopping line, and how bowed walls lie.

    row line  -----------------------    marks: how far the row lines lie from the base
    row line  -----------------------
    wall      __.--'''''''--.________    scribe: how far the wall stands in from the base
    base      - - - - - - - - - - - -    straight, along the rows, where the wall lies furthest out

The start wall comes first. A wall that leans more than one in ten from the rows stops none.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from layout.rows.ground import Ground
from layout.rows.rows import Floor
from layout.values.outline import HoleKind, Point, edges_of, ring_area
from layout.values.plan import RowMarks
from layout.values.tolerances import TOUCHING_TOLERANCE

_LEAN = 0.1

Stretch = list[tuple[int, Point, Point]]  # edges that follow each other: number, begin, end


def row_marks_of(ground: Ground, floor: Floor) -> tuple[RowMarks, ...]:
    """Return the row lines from every edge of the zone and its holes that rows stop at.

    A register stops no row: it is cut out of the boards.
    """
    zone, near = ground.request.zone, ground.near
    lines = row_lines(floor, near)
    rings = [("", zone.outline, True)]
    rings += [
        (f"hole {i} ", hole.ring, False)
        for i, hole in enumerate(zone.holes)
        if hole.kind is not HoleKind.REGISTER
    ]
    by_level: list[tuple[float, RowMarks]] = []
    for name, ring, around in rings:
        points = ground.frame.inward(ring)
        floor_left = (ring_area(points) > 0) == around
        for above, wall in _walls(points, floor_left):
            by_level += _marks_from(wall, lines, name, near, above=above)
    by_level.sort(key=lambda item: item[0])
    return tuple(marks for _, marks in by_level)


def row_lines(floor: Floor, near: float) -> list[float]:
    """Return the levels at which rows meet, in the working frame."""
    levels = sorted({floor.runs[contact.low].y1 for contact in floor.contacts})
    return [y for i, y in enumerate(levels) if i == 0 or y - levels[i - 1] > near]


def _walls(points: Sequence[Point], floor_left: bool) -> Iterator[tuple[bool, Stretch]]:
    """Yield the stretches of edges along the rows, and whether the floor lies above them."""
    edges = [(i, a, b) for i, (a, b) in enumerate(edges_of(points))]
    kinds = [_faces(a, b, floor_left) for _, a, b in edges]
    turn = next((i for i in range(len(edges)) if kinds[i] != kinds[i - 1]), 0)
    around = [*edges[turn:], *edges[:turn]]
    for above, stretch in groupby(around, key=lambda edge: kinds[edge[0]]):
        if above is not None:
            yield above, list(stretch)


def _faces(a: Point, b: Point, floor_left: bool) -> bool | None:
    """Whether the floor lies above an edge along the rows, None for any other edge."""
    along, across = b[0] - a[0], b[1] - a[1]
    if abs(along) < TOUCHING_TOLERANCE or abs(across) > _LEAN * abs(along):
        return None
    return (along > 0) == floor_left


def _marks_from(
    wall: Stretch, lines: Sequence[float], name: str, near: float, *, above: bool
) -> Iterator[tuple[float, RowMarks]]:
    """Yield the marks from every edge of a straight wall, or from the base of a bowed one.

    Each with the level of its base.
    """
    levels = [point[1] for _, a, b in wall for point in (a, b)]
    base = min(levels) if above else max(levels)
    ways = ((y - base) * (1 if above else -1) for y in lines)
    marks = tuple(sorted(way for way in ways if way > near))
    if not marks:
        return
    if max(levels) - min(levels) <= near:
        for number, a, _ in wall:
            from_edge = tuple(mark + (base - a[1]) * (1 if above else -1) for mark in marks)
            yield base, RowMarks(source=f"{name}edge {number}", marks=from_edge)
        return
    outermost = [edge for edge in wall if base in {edge[1][1], edge[2][1]}]
    number, _, _ = max(outermost, key=lambda edge: abs(edge[2][0] - edge[1][0]))
    source = f"{name}edge {number}"
    yield base, RowMarks(source=source, marks=marks, scribe=tuple(_scribe(wall, base)))


def _scribe(wall: Stretch, base: float) -> Iterator[Point]:
    """Yield (along, offset) of every corner of a wall, from the end where rows begin."""
    points = sorted({point for _, a, b in wall for point in (a, b)})
    for x, y in points:
        yield x - points[0][0], abs(y - base)
