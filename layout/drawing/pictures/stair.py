"""A flight of stairs as a section, as SVG: each riser as it is once the floor is laid.

          ___________ upper floor
         | 7 1/2
     ____|                thick: as it will be
    | 7 3/4               dashed: as it is now
____|
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from layout.drawing.pictures.frame import FIGURE_MM, SHEET_MM
from layout.drawing.true_size import FINE, THICK, TrueSize
from layout.values.outline import Point

_TALLEST, _MARGIN, _BELOW, _ABOVE = 96.0, 5.0, 17.0, 8.0
_LINE = 4.2


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionStep:
    """A riser, from the bottom: its height now and afterwards, and the latter in words."""

    now: float
    after: float
    words: str


def step_line(steps: Sequence[SectionStep], *, run: float, lifted: float = 0.0) -> list[Point]:
    """Return the corners of the stair as it will be, from the lower floor up, y upwards.

    ``lifted``: how much higher the lower floor then lies.
    """
    return _corners([step.after for step in steps], run, lifted)


def draw_stair(steps: Sequence[SectionStep], *, run: float, lifted: float = 0.0, title: str) -> str:
    """Return the section; ``run`` is the depth of a tread."""
    later = step_line(steps, run=run, lifted=lifted)
    now = _corners([step.now for step in steps], run, 0.0)
    wide, tall = later[-1][0], max(later[-1][1], now[-1][1])
    scale = min((SHEET_MM - 2 * _MARGIN - _BELOW - _ABOVE) / max(wide, 1.0), _TALLEST / tall)
    sheet = TrueSize(SHEET_MM, tall * scale + 2 * _MARGIN + 4, name="stair")

    def at(point: Point) -> Point:
        return _MARGIN + _BELOW + point[0] * scale, _MARGIN + (tall - point[1]) * scale

    for corners, name, weight, dash in ((now, "now", FINE, "2 1.2"), (later, "stair", THICK, "")):
        begin, end = at(corners[0]), at(corners[-1])
        line = [(_MARGIN, begin[1]), *map(at, corners), (end[0] + _ABOVE, end[1])]
        sheet.line(line, name=name, weight=weight, dash=dash)
    for number in written(steps, scale):
        (x, low), (_, high) = at(later[2 * number - 2]), at(later[2 * number - 1])
        place, text = (x - 1.5, (low + high) / 2), f"{number}: {steps[number - 1].words}"
        sheet.words(place, text, size=FIGURE_MM, anchor="end", name="riser-height")
    heights = ", ".join(f"riser {n} {step.words}" for n, step in enumerate(steps, 1))
    return sheet.svg(title, f"From the bottom: {heights}.")


def _corners(heights: Sequence[float], run: float, lifted: float) -> list[Point]:
    x, y = 0.0, lifted
    corners = [(x, y)]
    for place, height in enumerate(heights):
        y += height
        corners.append((x, y))
        if place < len(heights) - 1:
            x += run
            corners.append((x, y))
    return corners


def written(steps: Sequence[SectionStep], scale: float) -> list[int]:
    """Return the numbers of the risers whose heights are written: all where there is room.

    Where there is not: the first, the last, each that differs from the one below, and of the rest
    as many as fit.
    """
    lowest = min(step.after for step in steps) * scale
    every = max(1, math.ceil(_LINE / lowest)) if lowest > 0 else 1
    return [
        number
        for number, step in enumerate(steps, 1)
        if (number - 1) % every == 0
        or number == len(steps)
        or step.words != steps[number - 2].words
    ]
