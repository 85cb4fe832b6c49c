"""The strips of a floor on sheets: rows from the foot of each sheet up, as they are laid."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import ceil

from layout.cutsheet.strips.values import FloorStrips
from layout.drawing.strips.boxes import RowColumns
from layout.drawing.strips.paper import FINE, LEAST, StripPaper
from layout.drawing.strips.row import RowDrawing
from layout.values.units import INCH, MM_PER_INCH

WIDE, TALL = 251.0, 173.5  # fits a sheet of Letter or A4 that lies, under its heading
SHORT = 66.0  # inches: rows no longer stand in two columns
_ONE = (RowColumns(ring=9.5, far=14.5, strip=(36.0, 181.0), wall=(184.0, 250.4)),)
_TWO = (
    RowColumns(ring=9.5, far=14.0, strip=(34.0, 62.0), wall=(64.0, 123.0), narrow=True),
    RowColumns(ring=137.5, far=142.0, strip=(162.0, 190.0), wall=(191.4, 250.4), narrow=True),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class StripSheet:
    """One sheet of strips: the rows on it and its drawing."""

    rows: tuple[int, ...]
    drawing: str
    scale: int


def draw_strips(
    floor: FloorStrips, *, title: str, notes: Mapping[int, Sequence[str]] | None = None
) -> list[StripSheet]:
    """Return the sheets of a floor, rows in the order of laying; ``notes`` stand under a row."""
    inches = floor.reach / INCH[floor.unit]
    columns = _TWO if inches <= SHORT else _ONE
    low, high = columns[0].strip
    ratio = max(8, ceil(inches * float(MM_PER_INCH) / (high - low)))
    scale = float(MM_PER_INCH) / INCH[floor.unit] / ratio
    kept = notes or {}
    sheets: list[StripSheet] = []
    for sheet in _sheets(floor, columns, scale, kept):
        paper = StripPaper(WIDE, max(sum(row.height for row in column) for column in sheet) + 0.2)
        for place, column in zip(columns, sheet, strict=False):
            _draw_column(paper, place, column)
        rows = tuple(row.row.row for column in sheet for row in column)
        words = f"{title}, {rows_words(rows)}"
        described = " ".join(_described(row) for column in sheet for row in column)
        sheets.append(StripSheet(rows=rows, drawing=paper.sheet(words, described), scale=ratio))
    return sheets


def rows_words(rows: Sequence[int]) -> str:
    """Return rows in words."""
    return f"row {rows[0]}" if len(rows) == 1 else f"rows {rows[0]} to {rows[-1]}"


def _sheets(
    floor: FloorStrips,
    columns: Sequence[RowColumns],
    scale: float,
    notes: Mapping[int, Sequence[str]],
) -> Iterator[list[list[RowDrawing]]]:
    """Yield the rows of every sheet by its columns."""
    sheet: list[list[RowDrawing]] = [[]]
    for row in floor.rows:
        place = columns[len(sheet) - 1]
        drawing = RowDrawing(floor, row, place, scale=scale, notes=notes.get(row.row, ()))
        if sheet[-1] and sum(one.height for one in sheet[-1]) + drawing.height > TALL:
            if len(sheet) == len(columns):
                yield sheet
                sheet = []
            sheet.append([])
            place = columns[len(sheet) - 1]
            drawing = RowDrawing(floor, row, place, scale=scale, notes=notes.get(row.row, ()))
        sheet[-1].append(drawing)
    if sheet[0]:
        yield sheet


def _draw_column(paper: StripPaper, place: RowColumns, rows: Sequence[RowDrawing]) -> None:
    """Draw rows from the foot of a sheet up, the arrow to the next row beside them."""
    y = paper.tall
    for row in rows:
        y -= row.height
        row.draw(paper, y)
    paper.line([(place.far - 1, y), (place.wall[1], y)], name="row-end", weight=FINE)
    x = place.ring - 8.4
    paper.arrow((x, y + min(48.0, paper.tall - y)), (x, y + 1.0))
    if paper.tall - y > 40:
        paper.text((x + 3.3, y + 37.0), "next row", size=LEAST, bold=True, turn=-90)


def _described(row: RowDrawing) -> str:
    """Return a row for those who can't see the drawing."""
    names = ", ".join(piece.id for piece in row.row.pieces if not piece.whole)
    return f"Row {row.row.row}: {names or 'whole planks'}."
