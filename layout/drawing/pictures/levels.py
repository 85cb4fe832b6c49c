"""A doorway's cross-section while it is typed, as SVG: both floors, and what joins them.

      wall            wall
       :    ______     :
___________/      |_________        the strip over the gap, where there is one
this floor  |    |  floor beyond
            |    |
"""

from __future__ import annotations

from dataclasses import dataclass

from layout.drawing.pictures.frame import FIGURE_MM, SHEET_MM
from layout.drawing.true_size import FINE, THICK, THIN, TrueSize

_LEVEL, _FLOOR, _MOST = 28.0, 7.0, 14.0
_FACES = (30.0, 70.0)
_GAP = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelSection:
    """Two floors in millimeters: how much higher the one beyond stands, and the words at each.

    ``strip`` names what covers the joint; empty: planks run through.
    """

    rise: float
    here: str
    beyond: str
    stands: str
    strip: str = ""


def lift_of(rise: float) -> float:
    """Return how far one floor is drawn above the other: at true size, at most 14 mm."""
    return max(-_MOST, min(_MOST, rise))


def draw_levels(section: LevelSection, *, title: str) -> str:
    """Return the section; heights are at true size up to 14 mm, widths only show the order."""
    sheet = TrueSize(SHEET_MM, 56.0, name="levels")
    lift, middle = lift_of(section.rise), sum(_FACES) / 2
    far = _LEVEL - lift
    runs = not section.strip
    if runs and not lift:
        _floor(sheet, 2.0, SHEET_MM - 2.0, _LEVEL)
    else:
        _floor(sheet, 2.0, middle - _GAP, _LEVEL)
        _floor(sheet, middle + _GAP, SHEET_MM - 2.0, far)
    for x in _FACES:
        sheet.line([(x, 6.0), (x, 46.0)], name="face", weight=FINE, dash="4 1 1 1")
    if section.strip:
        top = min(_LEVEL, far)
        a, b = middle - 11, middle + 11
        corners = [(a, _LEVEL), (middle - 5, top - 2.5), (middle + 5, top - 2.5), (b, far)]
        sheet.line(corners, name="strip", weight=THICK)
        words = (middle, top - 6.0)
        sheet.words(words, section.strip, size=FIGURE_MM, anchor="middle", name="strip-name")
    if lift:
        _height(sheet, far)
    below = max(_LEVEL, far) + _FLOOR + 4.5
    sheet.words((2.0, below), section.here, size=FIGURE_MM, name="here")
    sheet.words(
        (SHEET_MM - 2.0, below), section.beyond, size=FIGURE_MM, anchor="end", name="beyond"
    )
    sheet.words((middle, 52.5), section.stands, size=FIGURE_MM, anchor="middle", name="stands")
    return sheet.svg(title, f"{section.here}; {section.beyond}: {section.stands}. {section.strip}")


def _floor(sheet: TrueSize, left: float, right: float, top: float) -> None:
    low = top + _FLOOR
    corners = [(left, top), (right, top), (right, low), (left, low), (left, top)]
    sheet.line(corners, name="floor", weight=THICK)


def _height(sheet: TrueSize, far: float) -> None:
    """Draw how far the two floors stand apart as a dimension at the far face."""
    x = _FACES[1] + 10
    sheet.line([(_FACES[0], _LEVEL), (x + 3, _LEVEL)], name="extension", weight=FINE, dash="1 1")
    sheet.dimension((x, min(_LEVEL, far)), (x, max(_LEVEL, far)))
    sheet.line([(x - 2, far), (x + 3, far)], name="extension", weight=THIN)
