"""Judging row marks: each told figure measured again from the pieces and the walls."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from layout.judge.view import Fault, View
from layout.values.outline import Point, Ring, to_frame
from layout.values.plan import RowMarks
from layout.values.tolerances import TOUCHING_TOLERANCE

_LEAN = 0.1  # a wall that leans more than one in ten from the rows stops none
_SOURCE = re.compile(r"(?:hole (\d{1,4}) )?edge (\d{1,4})")


def wrong_row_marks(view: View) -> Iterator[Fault]:
    """Yield row marks that do not stand where rows meet, and scribe offsets that the wall denies.

    A plan may tell no marks at all; from an edge that it names it tells every line.
    """
    for edge_marks in view.plan.row_marks:
        wall = _wall(view, edge_marks.source)
        if wall is None:
            yield _fault(edge_marks, "it names no edge that rows stop at")
            continue
        corners, above = wall
        base = min(y for _, y in corners) if above else max(y for _, y in corners)
        reach = 4 * view.near
        right = [abs(y - base) for y in _lines(view) if (y > base) == above]
        right = [mark for mark in right if mark > reach]
        if _differ(sorted(right), [mark for mark in edge_marks.marks if mark > reach], reach):
            listed = ", ".join(f"{mark:.4g}" for mark in sorted(right))
            yield _fault(edge_marks, f"its marks are not the row lines from there: {listed}")
        yield from _wrong_scribe(view, edge_marks, corners, base)


def _lines(view: View) -> list[float]:
    """Return the levels at which rows meet."""
    rows = sorted(view.rows)
    levels = sorted(y for row in rows for y, _ in view.contacts(*_low_high(view, row)))
    return [y for i, y in enumerate(levels) if i == 0 or y - levels[i - 1] > 4 * view.near]


def _low_high(view: View, row: int) -> tuple[int, int]:
    """Return a row and the next, the one on the low side first."""
    return (row, row + 1) if view.from_low else (row + 1, row)


def _wall(view: View, source: str) -> tuple[list[Point], bool] | None:
    """Return the corners of the wall that an edge belongs to, and whether the floor lies above.

    Edges that follow each other along the rows, the floor on the same side, are one wall.
    """
    named = _SOURCE.fullmatch(source)
    holes = view.request.zone.holes
    if not named or (named[1] and int(named[1]) >= len(holes)):
        return None
    ring: Ring = holes[int(named[1])].ring if named[1] else view.request.zone.outline
    points = to_frame(ring, view.plan.direction_deg)
    index = int(named[2])
    ways = [_way(points, i) for i in range(len(points))]
    if index >= len(points) or ways[index] == 0:
        return None
    first = last = index
    while ways[(first - 1) % len(points)] == ways[index] and last - first < len(points):
        first -= 1
    while ways[(last + 1) % len(points)] == ways[index] and last - first < len(points):
        last += 1
    corners = [points[i % len(points)] for i in range(first, last + 2)]
    turns = sum(a[0] * b[1] - b[0] * a[1] for a, b in _sides(points))
    return corners, ways[index] == (1 if (turns > 0) != bool(named[1]) else -1)


def _way(points: Sequence[Point], index: int) -> int:
    """Return 1 or -1 where an edge runs right or left along the rows, else 0."""
    (ax, ay), (bx, by) = points[index], points[(index + 1) % len(points)]
    if abs(bx - ax) < TOUCHING_TOLERANCE or abs(by - ay) > _LEAN * abs(bx - ax):
        return 0
    return 1 if bx > ax else -1


def _sides(points: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    """Yield the edges of a ring."""
    yield from zip(points, [*points[1:], points[0]], strict=True)


def _wrong_scribe(
    view: View, edge_marks: RowMarks, corners: Sequence[Point], base: float
) -> Iterator[Fault]:
    """Yield scribe offsets that are not those of the wall's corners."""
    offsets = [abs(y - base) for _, y in corners]
    if max(offsets) <= view.near and not edge_marks.scribe:
        return
    xs = [x for x, _ in corners]
    begin = min(xs) if view.from_left else max(xs)
    right = sorted((abs(x - begin), abs(y - base)) for x, y in corners)
    along = _differ([x for x, _ in right], [x for x, _ in edge_marks.scribe], 4 * view.near)
    if along or _differ([y for _, y in right], [y for _, y in edge_marks.scribe], 4 * view.near):
        listed = ", ".join(f"{y:.4g} at {x:.4g}" for x, y in right)
        yield _fault(edge_marks, f"its scribe offsets are not those of the wall: {listed}")


def _differ(right: Sequence[float], figures: Sequence[float], slack: float) -> bool:
    """Whether two lists of figures differ."""
    return len(right) != len(figures) or any(
        abs(a - b) > slack for a, b in zip(right, figures, strict=True)
    )


def _fault(edge_marks: RowMarks, text: str) -> Fault:
    """Return the fault of the marks from one edge."""
    where = f"row_marks from {edge_marks.source}"
    return Fault(rule="row_marks", where=where, value=len(edge_marks.marks), limit=0, text=text)
