"""Cartons of a floor as a stack, as SVG: those that are opened, and how the last one divides.

+---+---+---+---+---+
| 6 | 7 | 8 | 9:    |     what stands right of the dashed line is spare
+---+---+---+---+---+
| 1 | 2 | 3 | 4 | 5 |
+---+---+---+---+---+
"""

from __future__ import annotations

from dataclasses import dataclass

from layout.drawing.pictures.frame import FIGURE_MM, SHEET_MM
from layout.drawing.true_size import THICK, THIN, TrueSize
from layout.values.outline import Point

_ACROSS, _WIDE, _TALL, _MARGIN = 5, 18.4, 8.0, 4.0
_MOST_ROWS = 12
_FOOT = 8.0


@dataclass(frozen=True, slots=True, kw_only=True)
class CartonBox:
    """A carton of the stack: its number, its lower left corner in cartons, and what it gives.

    ``laid`` planks of it are laid, ``spare`` ones stay.
    """

    number: int
    column: int
    level: int
    laid: int
    spare: int


def stack_of(cartons: int, *, planks: int, per_carton: int) -> tuple[CartonBox, ...]:
    """Return a stack of cartons from the ground, opened one after another."""
    boxes = []
    for k in range(cartons):
        laid = max(0, min(per_carton, planks - k * per_carton))
        boxes.append(
            CartonBox(
                number=k + 1,
                column=k % _ACROSS,
                level=k // _ACROSS,
                laid=laid,
                spare=per_carton - laid,
            )
        )
    return tuple(boxes)


def draw_stack(cartons: int, *, planks: int, per_carton: int, title: str) -> str:
    """Return the stack in front view; more than it can show stand as one box a level.

    Empty where nothing is bought.
    """
    if not 0 < cartons <= _ACROSS * _MOST_ROWS:
        return ""
    boxes = stack_of(cartons, planks=planks, per_carton=per_carton)
    levels = boxes[-1].level + 1
    sheet = TrueSize(SHEET_MM, levels * _TALL + 2 * _MARGIN + _FOOT, name="cartons")
    ground = _MARGIN + levels * _TALL
    for box in boxes:
        _draw(sheet, box, ground, per_carton)
    spare = sum(box.spare for box in boxes)
    words = f"{cartons} × {per_carton} = {cartons * per_carton} planks: {planks} laid"
    words += f", {spare} spare" if spare else ", none spare"
    sheet.words((_MARGIN, ground + 5), words, size=FIGURE_MM, name="sum")
    return sheet.svg(title, f"{words}.")


def _draw(sheet: TrueSize, box: CartonBox, ground: float, per_carton: int) -> None:
    """Draw a carton, and in one that is laid in part where that ends."""
    left, low = _MARGIN + box.column * _WIDE, ground - box.level * _TALL
    right, high = left + _WIDE, low - _TALL
    corners: list[Point] = [(left, low), (right, low), (right, high), (left, high), (left, low)]
    sheet.line(corners, name="carton", weight=THICK)
    middle = (low + high) / 2
    if not box.spare:
        sheet.words(
            ((left + right) / 2, middle),
            str(box.number),
            size=FIGURE_MM,
            anchor="middle",
            name="carton-number",
        )
        return
    if box.laid:
        ends = left + _WIDE * box.laid / per_carton
        sheet.line([(ends, low), (ends, high)], name="spare-from", weight=THIN, dash="1.2 0.8")
    words = f"{box.laid} + {box.spare}" if box.laid else "spare"
    sheet.words(((left + right) / 2, middle), words, size=FIGURE_MM, anchor="middle", name="spare")
