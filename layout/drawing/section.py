"""A section through the strip in a doorway, to scale along the way, as SVG in millimeters of paper.

hall face                          far face
   |        ____[======]____          |     the strip over the joint
---|-----------------|  |-------------|---  this floor, the gap, the floor beyond
   |<-- floor ends ->|                |
   |      |<- covers ->|              |
"""

from __future__ import annotations

from dataclasses import dataclass

from layout.drawing.lettering import lettering_width
from layout.drawing.true_size import FINE, THICK, THIN, TrueSize

WIDE = 172.0
RUNS_DOWN = "reducer"
"""The strip with a ramp, which lies on the side of the lower floor."""
_THICK, _LIP, _RUN = 2.4, 3.0, 2.0
"""How far a strip stands up, what of it lies flat at least, and its ramp's run over its rise."""
_FIGURE, _SMALL = 4.94, 3.4
_BESIDE, _FLOOR, _LEVEL = 34.0, 5.0, 22.0  # millimeters


@dataclass(frozen=True, slots=True, kw_only=True)
class StripSection:
    """Places in millimeters from this room's face, and the words at them."""

    depth: float
    joint: float
    floor_ends: float
    covers: tuple[float, float]
    rise: float
    near_face: str
    far_face: str
    strip: str
    figures: tuple[str, str, str]


def draw_section(it: StripSection) -> str:
    """Return the section, its chain of figures under it; heights only show which side is higher."""
    scale = min(0.5, (WIDE - 2 * _BESIDE) / max(it.depth, it.covers[1] - it.covers[0], 1.0))
    sheet = TrueSize(WIDE, 58.0, name="section")

    def x(place: float) -> float:
        return _BESIDE + place * scale

    lift = max(min(it.rise * scale, 8.0), -4.0)
    low, far = _LEVEL + _FLOOR, max(x(it.depth), x(it.covers[1])) + 24
    _box(sheet, 4, _LEVEL, x(it.floor_ends), low, name="floor", weight=THICK)
    _box(sheet, x(it.joint + (it.joint - it.floor_ends)), _LEVEL - lift, far, low, name="beyond")
    top = _LEVEL - max(lift, 0.0)
    a, b = x(it.covers[0]), x(it.covers[1])
    sheet.line(_profile(it.strip, (a, b), lift), name="strip", weight=THICK)
    sheet.words(((a + b) / 2, top - 6), it.strip, size=_SMALL, anchor="middle", name="strip-name")
    # The far face ends above the figures, which are all measured from the near one.
    for place, foot, words in ((0.0, 55, it.near_face), (it.depth, 32, it.far_face)):
        sheet.line([(x(place), 3), (x(place), foot)], name="face", weight=FINE, dash="4 1 1 1")
        sheet.words((x(place) + 1, 4), words, size=_SMALL, name="face-name")
    sheet.words((6, low + 4), "this floor", size=_SMALL, name="floor-name")
    _chain(sheet, x(0), x(it.floor_ends), 37, f"floor ends {it.figures[0]}")
    _chain(sheet, x(0), a, 45, f"covers from {it.figures[1]}")
    _chain(sheet, x(0), b, 53, f"covers to {it.figures[2]}")
    return sheet.svg(f"Section: {it.strip}", "; ".join(it.figures))


def _profile(strip: str, covers: tuple[float, float], lift: float) -> list[tuple[float, float]]:
    """Return the upper side of a strip from this floor to the one beyond.

    A ramp begins on the lower floor, no steeper than 1:2 where the strip is wide enough for that.
    """
    a, b = covers
    crest = _LEVEL - max(lift, 0.0) - _THICK
    near_top, far_top = a + 2, b - 2
    if strip.lower().startswith(RUNS_DOWN):
        run = min(max((b - a) / 2, _RUN * (abs(lift) + _THICK)), b - a - _LIP)
        near_top, far_top = (a + run, far_top) if lift > 0 else (near_top, b - run)
    return [(a, _LEVEL), (near_top, crest), (far_top, crest), (b, _LEVEL - lift)]


def _box(
    sheet: TrueSize, x0: float, y0: float, x1: float, y1: float, *, name: str, weight: float = THIN
) -> None:
    """Draw a box."""
    corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0)]
    sheet.line(corners, name=name, weight=weight)


def _chain(sheet: TrueSize, zero: float, end: float, y: float, text: str) -> None:
    """Draw one figure of the chain from the face of the wall, its words beyond its end."""
    sheet.line([(end, y - 3), (end, y + 1.4)], name="extension", weight=FINE)
    if abs(end - zero) > 0.1:
        sheet.dimension((min(zero, end), y), (max(zero, end), y))
    at = min(max(zero, end) + 3, WIDE - 1.1 * lettering_width(text, _FIGURE))
    sheet.words((at, y), text, size=_FIGURE, name="chain", bold=True)
