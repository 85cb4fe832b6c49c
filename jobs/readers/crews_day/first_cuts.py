"""The first cuts of a day and the offcuts that it starts from, by the plan that is laid now."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from jobs.models import Job
from jobs.readers.current_plan.sheets import floors_by_name, rows_of
from jobs.readers.days import TaskLine
from layout.cutsheet.rows import RowsOfSheet

FIRST_ROWS = 3
_PIECE = re.compile(r"(\d+)-\d+")


@dataclass(frozen=True, kw_only=True, slots=True)
class FirstRow:
    """One of the first rows of a day: its pieces in a line, each cut piece with what to take."""

    row: int
    begin: str
    line: str
    cuts: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class StartingOffcut:
    """An offcut of an earlier day that a piece of this day is made of."""

    stack: str
    size: str
    piece: str


@dataclass(frozen=True, kw_only=True, slots=True)
class FloorStart:
    """Where a floor goes on this day."""

    zone: str
    rows: tuple[int, int]
    first: tuple[FirstRow, ...]
    offcuts: tuple[StartingOffcut, ...]


def floor_starts(job: Job, lines: Iterable[TaskLine]) -> list[FloorStart]:
    """Return where each floor goes on, for the floors that rows are finished of."""
    laying = [(line.zone, line.rows) for line in lines if line.rows]
    floors = floors_by_name(job) if laying else {}
    starts = []
    for zone, rows in laying:
        sheet = rows_of(floors[zone]) if zone in floors else None
        if sheet is not None:
            first, offcuts = tuple(_first_rows(sheet, rows)), tuple(_offcuts(sheet, rows))
            starts.append(FloorStart(zone=zone, rows=rows, first=first, offcuts=offcuts))
    return starts


def _first_rows(sheet: RowsOfSheet, rows: tuple[int, int]) -> Iterator[FirstRow]:
    last = min(rows[1], rows[0] + FIRST_ROWS - 1)
    for row in sheet.rows():
        if rows[0] <= row.row <= last:
            cuts = tuple(f"{piece.id}: {piece.take}" for piece in row.pieces)
            yield FirstRow(row=row.row, begin=row.begin, line=row.line, cuts=cuts)


def _offcuts(sheet: RowsOfSheet, rows: tuple[int, int]) -> Iterator[StartingOffcut]:
    """Yield the offcuts cut before the first row of the day and used by one of its rows."""
    for entry in sheet.rack():
        cut, used = _row_of(entry.cut_with), _row_of(entry.used_by)
        if used and rows[0] <= used <= rows[1] and (cut or 0) < rows[0]:
            stack = str(entry.stack or "")
            yield StartingOffcut(stack=stack, size=entry.size, piece=str(entry.used_by))


def _row_of(piece: object) -> int | None:
    match = _PIECE.search(str(piece or ""))
    return int(match[1]) if match else None
