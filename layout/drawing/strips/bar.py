"""An offcut as a small bar to scale, to be known by its length and width."""

from __future__ import annotations

from layout.drawing.strips.paper import EDGE, StripPaper
from layout.values.units import INCH, MM_PER_INCH

BAR = 36  # drawn 1 to so much


def draw_bar(length: float, width: float, unit: str, *, title: str) -> str:
    """Return an offcut as a box to scale."""
    scale = float(MM_PER_INCH) / INCH[unit] / BAR
    wide, tall = max(1.0, length * scale), max(1.2, width * scale * 0.6)
    paper = StripPaper(round(wide + 0.6, 1), tall + 0.6)
    paper.box(0.3, 0.3, wide, tall, weight=EDGE)
    return paper.sheet(title, "")
