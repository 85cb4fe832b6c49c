"""The first cuts of a day and the offcuts that it starts from, by the plan that is laid now.

The rows are drawn as the packet's strips are, by the same code, so that paper and phone agree.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from jobs.models import Job
from jobs.readers.current_plan.sheets import floors_by_name, rows_of
from jobs.readers.days import TaskLine
from layout.cutsheet.rows import RowsOfSheet
from layout.cutsheet.strips.in_order import RowStretch, in_order, width_words
from layout.cutsheet.strips.offcuts import offcuts_of_floor
from layout.cutsheet.strips.rows import floor_strips
from layout.cutsheet.strips.values import FloorStrips, StripRow
from layout.drawing.strips.phone import draw_on_phone
from layout.drawing.strips.sheets import draw_strips

FIRST_ROWS = 3
_PIECE = re.compile(r"(\d+)-\d+")


@dataclass(frozen=True, kw_only=True, slots=True)
class FirstRow:
    """One of the first rows of a day: what lies in it from the end where it begins, and drawn.

    ``far`` is its far edge from the start wall; ``drawing`` is as wide as a phone (SVG).
    """

    row: int
    begin: str
    far: str
    stretches: tuple[RowStretch, ...]
    notes: tuple[str, ...]
    drawing: str


@dataclass(frozen=True, kw_only=True, slots=True)
class StartingOffcut:
    """An offcut of an earlier day, by the piece of this day that it becomes."""

    stack: str
    size: str
    piece: str


@dataclass(frozen=True, kw_only=True, slots=True)
class FloorStart:
    """Where a floor goes on this day: its first rows, drawn (SVG) and in words; what waits.

    ``plan`` is the key of the plan that is laid.
    """

    zone: str
    rows: tuple[int, int]
    first: tuple[FirstRow, ...]
    drawings: tuple[str, ...]
    offcuts: tuple[StartingOffcut, ...]
    plan: int | None = None


def floor_starts(job: Job, lines: Iterable[TaskLine]) -> list[FloorStart]:
    """Return where each floor goes on, for the floors that rows are finished of."""
    laying = [(line.zone, line.rows) for line in lines if line.rows]
    floors = floors_by_name(job) if laying else {}
    starts = []
    for zone, rows in laying:
        sheet = rows_of(floors[zone]) if zone in floors else None
        if sheet is not None:
            plan = floors[zone].mark.plan
            starts.append(replace(_start(zone, rows, sheet), plan=plan.pk if plan else None))
    return starts


def _start(zone: str, rows: tuple[int, int], sheet: RowsOfSheet) -> FloorStart:
    strips = floor_strips(sheet.request, sheet.plan, sheet.sheet)
    last = min(rows[1], rows[0] + FIRST_ROWS - 1)
    first = replace(strips, rows=tuple(row for row in strips.rows if rows[0] <= row.row <= last))
    return FloorStart(
        zone=zone,
        rows=rows,
        first=tuple(_first_row(first, row) for row in first.rows),
        drawings=tuple(_drawings(zone, first)),
        offcuts=tuple(_offcuts(sheet, rows)),
    )


def _drawings(zone: str, strips: FloorStrips) -> Iterator[str]:
    if strips.rows:
        yield from (sheet.drawing for sheet in draw_strips(strips, title=f"First cuts, {zone}"))


def _first_row(floor: FloorStrips, row: StripRow) -> FirstRow:
    width = width_words(row)
    return FirstRow(
        row=row.row,
        begin=row.begin,
        far=row.far,
        stretches=in_order(row, floor.unit),
        notes=(*row.notes, width) if width else row.notes,
        drawing=draw_on_phone(floor, row, title=f"First cuts, row {row.row}"),
    )


def _offcuts(sheet: RowsOfSheet, rows: tuple[int, int]) -> Iterator[StartingOffcut]:
    """Yield the offcuts cut before the first row of the day that one of its rows waits for."""
    for one in offcuts_of_floor(sheet).waiting:
        cut = _PIECE.search(one.cut_with)
        before = cut is None or int(cut[1]) < rows[0]
        if before and rows[0] <= one.row <= rows[1]:
            yield StartingOffcut(stack=one.stack or "", size=one.size, piece=one.name)
