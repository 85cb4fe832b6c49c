"""One placing of the story stick to scale, as SVG in millimeters of paper.

  4 1/4     11 1/4     18 1/4        figures: from the start wall to the far edge of the row
|---(1)---|---(2)----|---(3)----|    the stick, a row's number between its marks
^ wall        ^ 2-6: 6 stays         where rows and pieces are cut along
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from layout.cutsheet.placings import Placing, StorySticks
from layout.drawing.lettering import lettering_width
from layout.drawing.strips.inter import inter_width
from layout.drawing.true_size import THICK, THIN, TrueSize
from layout.values.outline import Point
from layout.values.units import INCH

WIDE = 250.0  # fits a sheet that lies on its side, Letter and A4
_LEFT, _FIGURE, _SMALL = 9.0, 4.94, 3.6  # millimeters; 14 pt for a measure, 10 pt for words
_LEAST_FIGURE, _APART = 4.24, 1.2  # 12 pt where rows lie close, free between two figures
_TALL, _LINE, _CARRIED = 9.0, 4.6, 5.4
_OVER, _HEAD = 3.1, 5.8  # the middle of a figure over the stick, and all of its line


@dataclass(frozen=True, slots=True, kw_only=True)
class StickNote:
    """A word under the stick: how far from the start wall it points, bold or plain."""

    at: float
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StickFace:
    """What is written on a placing: figures by row, also of the one it is laid on, and notes.

    ``carry``: how the stick is carried on to it, beside the arrow at its first mark.
    """

    placing: Placing
    zero: float
    figures: Mapping[int, str]
    notes: tuple[StickNote, ...]
    carry: str = ""


def draw_stick(sticks: StorySticks, face: StickFace, *, unit: str, title: str) -> str:
    """Return one placing of a stick; ``face.zero`` is how far its end lies from the start wall."""
    mm = INCH["mm"] / INCH[unit] / sticks.scale
    level = _level_size(face, mm)
    head = 16.0 if level is None else _HEAD
    levels = _levels([(face_x(face, note.at, mm), note.text) for note in face.notes])
    foot = _LINE * (max(levels, default=0) + 1) + 1 if levels else _CARRIED
    carried = max(levels, default=-1) + 1
    foot += _LINE * bool(levels and face.carry)
    sheet = TrueSize(WIDE, head + _TALL + foot, name="stick")
    top, bottom = head, head + _TALL
    end = _LEFT + sticks.length * mm
    corners = [(_LEFT, top), (end, top), (end, bottom), (_LEFT, bottom), (_LEFT, top)]
    sheet.line(corners, name="batten", weight=THIN)
    _draw_marks(sheet, face, mm, top=top, level=level)
    if face.carry:
        x = _LEFT + face.placing.rests * mm + 3
        place = (x, bottom + 3.2 + _LINE * carried)
        sheet.words(place, face.carry, size=_SMALL, name="carry-words", bold=True)
    for note, level in zip(face.notes, levels, strict=True):
        x, y = face_x(face, note.at, mm), bottom + 3.4 + _LINE * level
        sheet.line([(x, y + 1.6), (x, bottom)], name="stop", weight=THICK)
        sheet.area([(x, bottom), (x - 1, bottom + 2.2), (x + 1, bottom + 2.2)], name="stop-head")
        sheet.words((x + 1.4, y), note.text, size=_SMALL, name="stop-words")
    return sheet.svg(title, f"Story stick, drawn 1:{sticks.scale}.")


def _wide(figure: str, size: float) -> float:
    """Return how wide a figure over the stick comes out."""
    return inter_width(figure, size, bold=True)


def face_x(face: StickFace, at: float, mm: float) -> float:
    """Return where on the paper a place lies that is so far from the start wall."""
    return _LEFT + (at - face.zero) * mm


def _level_size(face: StickFace, mm: float) -> float | None:
    """Return how large the figures are written level; None where they would touch all the same.

    The last one can stand aside.
    """
    placing = face.placing
    places = [(row, at) for row, at in ((placing.base, placing.rests), *placing.marks) if row]
    size = _FIGURE
    for (row, at), (other, place) in pairwise(places[:-1]):
        room = (place - at) * mm - _APART
        half = (_wide(face.figures[row], 1.0) + _wide(face.figures[other], 1.0)) / 2
        size = min(size, room / half)
    return size if size >= _LEAST_FIGURE else None


def _draw_marks(
    sheet: TrueSize, face: StickFace, mm: float, *, top: float, level: float | None
) -> None:
    """Draw the marks with their figures, and the number of each row in a ring before its mark."""
    before, size = _LEFT + face.placing.rests * mm, level or _FIGURE
    last = 0.0
    if face.placing.base is not None:
        _draw_base(sheet, face, before, top=top, level=level)
        last = before + _wide(face.figures[face.placing.base], size) / 2
    for row, place in face.placing.marks:
        x = _LEFT + place * mm
        sheet.line([(x, top), (x, top + _TALL)], name="mark", weight=THICK)
        radius = min(3.6, max((x - before) / 2 - 0.5, 2.2))
        middle = ((before + x) / 2, top + _TALL / 2)
        sheet.ring(middle, radius, str(row), size=3.2)
        before = x
        aside = 0.0
        if row == face.placing.marks[-1][0] and level is not None:
            aside = max(last + 2.4 + _wide(face.figures[row], size) / 2 - x, 0.0)
        last = x + aside + _wide(face.figures[row], size) / 2
        _write_figure(sheet, (x + aside, top), face.figures[row], level=level)


def _draw_base(
    sheet: TrueSize, face: StickFace, x: float, *, top: float, level: float | None
) -> None:
    """Draw the mark that a later placing is laid on, and the figure of the row that it lies on."""
    sheet.line([(x, top), (x, top + _TALL)], name="mark", weight=THICK)
    bottom = top + _TALL
    sheet.area([(x, bottom + 0.4), (x - 1.8, bottom + 4), (x + 1.8, bottom + 4)], name="carry")
    if face.placing.base is not None:
        _write_figure(sheet, (x, top), face.figures[face.placing.base], level=level)


def _write_figure(sheet: TrueSize, place: Point, text: str, *, level: float | None) -> None:
    """Write a row's figure over its mark."""
    x, top = place
    if level is None:
        sheet.words((x, top - 1.5), text, size=_FIGURE, turn=-90, name="far", bold=True)
    else:
        sheet.words((x, top - _OVER), text, size=level, anchor="middle", name="far", bold=True)


def _levels(notes: Sequence[tuple[float, str]]) -> list[int]:
    """Return for every note how far down it stands, so that none covers another or its leader.

    Words stand to the right of their leader: from the right, each takes the first line on which
    nothing of those before reaches into it.
    """
    levels = [0] * len(notes)
    placed: list[tuple[float, int]] = []
    for i in sorted(range(len(notes)), key=lambda k: -notes[k][0]):
        x, text = notes[i]
        right = x + 3 + lettering_width(text, _SMALL)
        level = 0
        while any(other >= level and x <= at < right for at, other in placed):
            level += 1
        levels[i] = level
        placed.append((x, level))
    return levels
