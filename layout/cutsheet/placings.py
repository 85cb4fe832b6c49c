"""How a story stick is laid down again and again: which rows each placing reaches.

first placing   0--1---2---3---4-|          one stick, its marks at the first rows
second                      4--5---6---7-|  the first mark on the far edge of row 4, so the
                                            second mark is row 5, as long as rows are alike
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from layout.cutsheet.stick import RowEdges
from layout.values.units import INCH, TAPE_STEP


@dataclass(frozen=True, slots=True, kw_only=True)
class Placing:
    """One placing: the row on whose far edge it lies, None for the start wall.

    ``marks``: (row, from the stick's end) of the rows that it shows; ``rests`` is where on the
    stick the row lies that it is placed on.
    """

    base: int | None
    rests: float
    marks: tuple[tuple[int, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StorySticks:
    """A stick and its placings. ``pitch`` is None where its rows are not alike.

    Where they are, every placing uses the marks of the first one; else each one has a face of its
    own with marks from the end of the stick. ``scale``: how much smaller it is drawn.
    """

    length: float
    scale: int
    pitch: float | None
    placings: tuple[Placing, ...]


_STICK = 96.0  # inches: a batten that one person handles; common practice, no source
_SCALES = (12, 8, 6, 4, 2)
_LEAST = 0.2  # inches on paper between two marks, so that their figures can be read


def story_sticks(lines: Sequence[RowEdges], unit: str) -> StorySticks:
    """Return the stick of a floor with all its placings; none for a floor without rows."""
    inch, step = INCH[unit], TAPE_STEP[unit]
    ways = [b.far - a.far for a, b in pairwise(lines)]
    inner = ways[:-1]  # the last row may be cut
    alike = all(abs(way - inner[0]) <= step / 4 for way in inner) if inner else bool(lines)
    least = min([way for way in inner if way > inch / 2] or [7 * inch])
    scale = next((s for s in _SCALES if least / s >= _LEAST * inch), _SCALES[-1])
    length = _STICK * inch * scale / _SCALES[0]
    pitch = (inner or ways or [0.0])[0] if alike else None
    return StorySticks(
        length=length, scale=scale, pitch=pitch, placings=tuple(_placings(lines, length, alike))
    )


def _placings(lines: Sequence[RowEdges], length: float, alike: bool) -> list[Placing]:
    """Return the placings that reach every row."""
    placings: list[Placing] = []
    at = 0
    while at < len(lines):
        base = lines[at - 1] if at else None
        rests = lines[0].far if base and alike else 0.0
        zero = base.far if base else 0.0
        marks: list[tuple[int, float]] = []
        while at < len(lines):
            place = rests + lines[at].far - zero
            if marks and place > length:
                break
            marks.append((lines[at].row, place))
            at += 1
        placings.append(Placing(base=base.row if base else None, rests=rests, marks=tuple(marks)))
    return placings
