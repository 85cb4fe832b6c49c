"""The trim of a room on its plan, as SVG: each run along its wall, named as in the list."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from layout.drawing.lettering import lettering_width
from layout.drawing.pictures.frame import FIGURE_MM, RoomFrame
from layout.drawing.true_size import THICK, THIN
from layout.values.outline import Point, Ring, edges_of, ring_area

_OFF, _WORDS_OFF, _TICK = 1.6, 5.0, 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnRun:
    """A run: what it is called, its wall, where it begins and ends on it, its length in words."""

    name: str
    wall: int
    begins: float
    ends: float
    words: str


def draw_runs(outline: Ring, runs: Sequence[DrawnRun], *, title: str) -> str:
    """Return the room with its runs as lines inside the walls, each between two ticks."""
    frame = RoomFrame([outline], name="trim-runs")
    frame.walls(outline)
    hand = 1.0 if ring_area(outline) > 0 else -1.0
    edges = list(edges_of(outline))
    for run in runs:
        _draw(frame, run, edges[run.wall], hand)
    listed = "; ".join(f"{run.name}: {run.words}" for run in runs)
    return frame.sheet.svg(title, f"{listed or 'No run along a wall'}.")


def run_line(run: DrawnRun, edge: tuple[Point, Point]) -> tuple[Point, Point]:
    """Return where on its wall a run lies."""
    (ax, ay), (bx, by) = edge
    long = math.dist(*edge)
    ux, uy = (bx - ax) / long, (by - ay) / long
    begin, end = run.begins, min(run.ends, long)
    return (ax + begin * ux, ay + begin * uy), (ax + end * ux, ay + end * uy)


def _draw(frame: RoomFrame, run: DrawnRun, edge: tuple[Point, Point], hand: float) -> None:
    """Draw a run a little off its wall, with its name, and its length where that fits."""
    (ax, ay), (bx, by) = (frame.at(point) for point in run_line(run, edge))
    long = math.hypot(bx - ax, by - ay)
    if long == 0:
        return
    ux, uy = (bx - ax) / long, (by - ay) / long
    # Inside lies on the left of a counter-clockwise walk; y points down here.
    nx, ny = uy * hand, -ux * hand
    text = f"{run.name}: {run.words}"
    if lettering_width(text, FIGURE_MM) > long - _WORDS_OFF:
        text = run.name
    turn = math.degrees(math.atan2(uy, ux))
    turn += 0 if -90 <= round(turn, 3) < 90 else 180
    place = ((ax + bx) / 2 + nx * _WORDS_OFF, (ay + by) / 2 + ny * _WORDS_OFF)
    frame.sheet.words(place, text, size=FIGURE_MM, anchor="middle", turn=turn, name="run-name")
    a, b = ((x + nx * _OFF, y + ny * _OFF) for x, y in ((ax, ay), (bx, by)))
    frame.sheet.line([a, b], name="run", weight=THICK)
    for x, y in (a, b):
        ends = [(x - nx * _TICK, y - ny * _TICK), (x + nx * _TICK, y + ny * _TICK)]
        frame.sheet.line(ends, name="run-end", weight=THIN)
