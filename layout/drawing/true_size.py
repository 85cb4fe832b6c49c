"""A sheet at true size: one unit of the drawing is one millimeter of paper, as SVG.

The sheet, 190 x 254 mm, fits within the margins of Letter and A4. Two rulers tell whether it was
printed at true size. Presentation attributes and classes only, black on white.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape

from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from layout.drawing.lettering import lettering_width
from layout.values.outline import Point
from layout.values.units import INCH

WIDE, TALL = 190.0, 254.0
HEAD = 44.0  # millimeters at the top for words and rulers
THICK, THIN, FINE = 0.6, 0.3, 0.18


class TrueSize:
    """A sheet in the making; points are millimeters from its upper left corner, y downwards."""

    def __init__(self) -> None:
        self._parts: list[str] = []

    def line(
        self, points: Sequence[Point], *, name: str, weight: float = THIN, dash: str = ""
    ) -> None:
        """Draw a line through points."""
        data = "L".join(f"{_n(x)} {_n(y)}" for x, y in points)
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        self._parts.append(
            f'<path class="{name}" d="M{data}" fill="none" stroke="currentColor"'
            f' stroke-width="{weight:g}"{dashed}/>'
        )

    def lines(self, shape: BaseGeometry, *, name: str, weight: float, dash: str = "") -> None:
        """Draw every line of a shape, a polygon's outline and holes."""
        for part in getattr(shape, "geoms", [shape]):
            if isinstance(part, Polygon) and not part.is_empty:
                self.lines(part.boundary, name=name, weight=weight, dash=dash)
            elif isinstance(part, LineString) and part.length > 0:
                self.line(list(part.coords), name=name, weight=weight, dash=dash)

    def hatch(self, shape: BaseGeometry, spacing: float = 4.0) -> None:
        """Hatch an area with lines at 45 degrees."""
        if shape.is_empty:
            return
        x0, y0, x1, y1 = shape.bounds
        start = x0 + y0 - (x0 + y0) % spacing
        steps = int((x1 + y1 - start) / spacing) + 1
        for k in range(1, steps):
            total = start + k * spacing
            across = LineString([(total - y0, y0), (total - y1, y1)])
            self.lines(across.intersection(shape), name="waste", weight=FINE)

    def words(
        self,
        place: Point,
        text: str,
        *,
        size: float = 3.6,
        anchor: str = "start",
        turn: float = 0.0,
        name: str = "lettering",
    ) -> None:
        """Write text on paper of its own, its middle height at a point, turned clockwise."""
        x, y = place
        turned = f' transform="rotate({_n(turn)} {_n(x)} {_n(y)})"' if turn else ""
        wide = lettering_width(text, size)
        left = {"start": x, "middle": x - wide / 2, "end": x - wide}[anchor] - 0.5
        self._parts.append(
            f'<rect class="paper" x="{_n(left)}" y="{_n(y - size * 0.6)}" width="{_n(wide + 1)}"'
            f' height="{_n(size * 1.2)}" fill="#fff"{turned}/>'
        )
        self._parts.append(
            f'<text class="{name}" x="{_n(x)}" y="{_n(y + size * 0.36)}" font-size="{size:g}"'
            f' text-anchor="{anchor}" fill="currentColor"{turned}>{escape(text)}</text>'
        )

    def rulers(self, top: float) -> None:
        """Draw a ruler of 100 mm and one of 4 in, one beneath the other."""
        for y, name, step, count, words in (
            (top, "ruler-mm", 10.0, 10, "100 mm"),
            (top + 9, "ruler-in", INCH["mm"] / 2, 8, "4 in"),
        ):
            end = 5 + step * count
            self.line([(5, y), (end, y)], name=name)
            for k in range(count + 1):
                deep = 3.0 if k % (5 if name == "ruler-mm" else 2) == 0 else 1.8
                self.line([(5 + k * step, y), (5 + k * step, y - deep)], name="ruler-tick")
            self.words((end + 3, y - 1), words)

    def arrow(self, a: Point, b: Point) -> None:
        """Draw an arrow straight up or down the sheet."""
        self.line([a, b], name="arrow")
        back = 2.5 if a[1] > b[1] else -2.5
        self.line([(b[0] - 1, b[1] + back), b, (b[0] + 1, b[1] + back)], name="arrow")

    def svg(self, title: str, description: str) -> str:
        """Return the sheet as SVG in true size."""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDE:g}mm" height="{TALL:g}mm"'
            f' viewBox="0 0 {WIDE:g} {TALL:g}" role="img" class="template" color="#000"'
            f' fill="none" font-family="Inter, DejaVu Sans, sans-serif">'
            f"<title>{escape(title)}</title><desc>{escape(description)}</desc>"
            f"{''.join(self._parts)}</svg>\n"
        )


def tiles(low: float, high: float, most: float, shared: float) -> Iterable[tuple[float, float]]:
    """Yield stretches no longer than ``most`` that cover a longer one and share ``shared``."""
    yield low, min(high, low + most)
    while low + most < high:
        low += most - shared
        yield low, min(high, low + most)


def _n(value: float) -> str:
    """Return a number with at most three decimals."""
    return f"{round(value, 3) + 0.0:.10g}"
