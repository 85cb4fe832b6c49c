"""A story stick made and laid down by the words of its pages, then slid, held against the plan.

From the pages come make, placings, faces and the table of slides; from the plan where rows end.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

from layout.cutsheet.stick import RowStop, stopping_lines
from layout.values.material import Side
from layout.values.outline import to_frame
from layout.values.plan import Plan
from layout.values.plan_form import read_plan
from layout.values.request import PlanRequest, read_request
from layout.values.units import INCH
from tests.packet_pdf.grammar import FIGURE
from tests.packet_pdf.strip_reader import length_of
from tests.packet_shapes.pages import PlacedWord, words_of
from tests.sweeps.planks_wanted import Json

_MAKE = re.compile(rf'First mark ({FIGURE})(?:"| mm) from the end, then every ({FIGURE})')
_ONE = re.compile(rf'One mark, ({FIGURE})(?:"| mm) from the end')
_CARRY = re.compile(r"lay the first mark on the far edge of row (\d+); the next mark is row (\d+)")
_FACE = re.compile(
    r"Carry on with a new face: lay the end of the stick on the far edge of row (\d+)"
)
_MARK = re.compile(rf"row (\d+) ({FIGURE})[,.]")
_LONG = 96.0  # inches: a batten of 8 ft
_SLIDE = {"in": ("+ ¼", 0.25), "mm": ("+ 5", 5.0)}
_NEAR = {"in": 1 / 16, "mm": 1.5}


def stick_faults(request: Json, plan: Json, pdf: bytes) -> list[str]:
    """Return which rows don't land on their lines, as laid and slid; empty: all do."""
    read = _StickRead(read_request(request), read_plan(plan), pdf)
    return [*read.landed(), *read.slid()]


class _StickRead:
    """The pages of a stick beside the plan of its floor."""

    def __init__(self, request: PlanRequest, plan: Plan, pdf: bytes) -> None:
        self.request, self.plan = request, plan
        self.words = words_of(pdf)
        self.text = " ".join(word.text for word in self.words).replace('" .', '".')
        self.near = _NEAR[plan.unit]
        self.true = self._true()

    def _true(self) -> dict[int, float]:
        """Return how far each row's far edge lies from the start wall, by the pieces' outlines."""
        low = self.request.lay.start is Side.LOW
        sign = 1 if low else -1
        ring = to_frame(self.request.zone.outline, self.plan.direction_deg)
        zero = min(sign * y for _, y in ring)
        edges: dict[int, float] = {}
        pieces = [(p.row, p.outline) for p in (*self.plan.pieces, *self.request.laid)]
        for row, outline in pieces:
            far = max(sign * y for _, y in to_frame(outline, self.plan.direction_deg)) - zero
            edges[row] = max(far, edges.get(row, 0.0))
        return dict(sorted(edges.items()))

    def lines(self) -> dict[int, float]:
        """Return where each row ends by the words alone: made, laid down, carried on."""
        made, one = _MAKE.search(self.text), _ONE.search(self.text)
        rows = [*self.true]
        if made is None and one is None:
            return self._faces()
        first = length_of((made or one)[1])  # type: ignore[index]
        marks = [first]
        long = _LONG * INCH[self.plan.unit]
        while made is not None and marks[-1] + length_of(made[2]) <= long + self.near:
            marks.append(marks[-1] + length_of(made[2]))
        lines = dict(zip(rows, marks, strict=False))
        for base, row in _CARRY.findall(self.text):
            assert int(row) == int(base) + 1
            end = lines[int(base)] - marks[0]
            lines |= {int(base) + k: end + mark for k, mark in enumerate(marks) if k}
        return lines

    def _faces(self) -> dict[int, float]:
        """Return where rows end that are not alike: each later face has its marks in words."""
        lines = dict(self.true)  # the first face is marked as drawn
        parts = _FACE.split(self.text)[1:]
        for base, words in zip(parts[::2], parts[1::2], strict=True):
            face = words[words.index("From the end:") :].split(" Slide ")[0]
            for row, figure in _MARK.findall(face):
                lines[int(row)] = lines[int(base)] + length_of(figure)
        return lines

    def landed(self) -> Iterator[str]:
        """Yield rows that the stick puts elsewhere; the last is cut to its wall."""
        lines = self.lines()
        for row in [*self.true][:-1]:
            if row not in lines:
                yield f"row {row} is on no placing"
            elif abs(lines[row] - self.true[row]) > self.near:
                yield f"row {row} lands at {lines[row]:.3f}, wanted {self.true[row]:.3f}"

    def slid(self) -> Iterator[str]:
        """Yield lines whose printed figure is not what a stick slid away by a quarter leaves."""
        column, by = _SLIDE[self.plan.unit]
        lines, printed = self.lines(), self._table(column)
        rows = [*self.true]
        for stop in stopping_lines(self.request, self.plan):
            who = f"row {stop.row}" if not stop.pieces else stop.pieces[0]
            words = printed.get((who, "rip" if stop.ripped else "notch"))
            if words is None or not re.fullmatch(FIGURE, words) or stop.stays[0] != stop.stays[1]:
                continue
            left = self._left(stop, lines, rows, by)
            if abs(length_of(words) - left) > self.near:
                yield f"{who} slid keeps {left:.3f}, the table says {words}"

    def _left(self, stop: RowStop, lines: dict[int, float], rows: list[int], by: float) -> float:
        """Return what a slide leaves of a row's width: its plank's edge to the wall that stays."""
        far = lines[stop.row] if stop.row != rows[-1] else lines[stop.row - 1] + stop.width
        near = far - stop.width
        return far + by - stop.at if stop.faces == "near" else stop.at - near - by

    def _table(self, column: str) -> dict[tuple[str, str], str]:
        """Return the figures of one column of the table of slides, by whose line and cut."""
        heads = self._lines_with("slid by")
        if not heads:
            return {}
        first, last = column.split()
        head = heads[0]
        at = next(b.right for a, b in pairwise(head) if (a.text, b.text) == (first, last))
        table: dict[tuple[str, str], str] = {}
        for line in self._lines_with(", from the "):
            text = " ".join(word.text for word in line)
            read = re.match(r"(row \d+|\d+-\d+)(?: to [\d-]+)?.*?, (rip|notch), from the", text)
            cell = [word.text for word in line if abs(word.right - at) < 1.5]
            if read and cell:
                table[read[1], read[2]] = cell[-1]
        return table

    def _lines_with(self, part: str) -> list[list[PlacedWord]]:
        """Return the lines of words that hold a text."""
        groups: list[list[PlacedWord]] = []
        for word in sorted(self.words, key=lambda w: (w.page, -w.bottom)):
            last = groups[-1][0] if groups else None
            if last is not None and last.page == word.page and last.bottom - word.bottom < 1.6:
                groups[-1].append(word)
            else:
                groups.append([word])
        lines = [sorted(group, key=lambda w: w.left) for group in groups]
        return [line for line in lines if part in " ".join(w.text for w in line)]
