"""One row of a floor as wide as a phone: its pieces and figures alone, no boxes to write in."""

from __future__ import annotations

from layout.cutsheet.strips.in_order import with_wall_figures
from layout.cutsheet.strips.values import FloorStrips, StripRow
from layout.drawing.strips.boxes import RowColumns
from layout.drawing.strips.paper import StripPaper
from layout.drawing.strips.row import RowDrawing

WIDE = 88.0  # millimeters: lettering of 9 points is 12 pixels high on a screen of 390
_COLUMNS = RowColumns(ring=0.0, far=0.0, strip=(2.0, WIDE - 2), wall=(2.0, WIDE - 2))


def draw_on_phone(floor: FloorStrips, row: StripRow, *, title: str) -> str:
    """Return the strip of a row, drawn as on its sheet, as wide as the screen of a phone."""
    low, high = _COLUMNS.strip
    shown = with_wall_figures(row)
    drawing = RowDrawing(floor, shown, _COLUMNS, scale=(high - low) / floor.reach)
    paper = StripPaper(WIDE, drawing.height)
    drawing.draw_strip(paper, 0.0)
    names = ", ".join(piece.id for piece in row.pieces if not piece.whole)
    return paper.sheet(title, f"Row {row.row}: {names or 'whole planks'}.")
