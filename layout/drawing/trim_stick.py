"""A stick of trim to scale with its cuts in order, as SVG in millimeters of paper."""

from __future__ import annotations

from collections.abc import Sequence

from layout.drawing.lettering import lettering_width
from layout.drawing.true_size import THICK, THIN, TrueSize

WIDE = 172.0
_TALL, _SMALL, _TOP = 7.0, 3.4, 1.0


def draw_trim_stick(
    length: float, cuts: Sequence[tuple[float, str]], *, longest: float, kerf: float, title: str
) -> str:
    """Return a stick: its cuts, (length, words) each, numbered from the left; what is left dashed.

    ``longest`` is the longest stick of the list, drawn over the sheet's whole width.
    """
    scale = (WIDE - 2) / longest
    sheet = TrueSize(WIDE, _TOP + _TALL + 1, name="trim-stick")
    top, bottom, end = _TOP, _TOP + _TALL, 1 + length * scale
    corners = [(1.0, top), (end, top), (end, bottom), (1.0, bottom), (1.0, top)]
    sheet.line(corners, name="stick", weight=THIN, dash="2 1.5")
    at = 1.0
    for number, (long, words) in enumerate(cuts, 1):
        right = at + long * scale
        box = [(at, top), (right, top), (right, bottom), (at, bottom), (at, top)]
        sheet.line(box, name="cut", weight=THICK)
        middle = (top + bottom) / 2
        sheet.disc((at + 3.4, middle), 2.2, str(number), size=3.2)
        if 1.1 * lettering_width(words, _SMALL) + 8 < right - at:
            sheet.words((at + 7, middle), words, size=_SMALL, name="length", bold=True)
        at = right + kerf * scale
    return sheet.svg(title, "; ".join(words for _, words in cuts))
