"""A sheet at true size: one unit of the drawing is one millimeter of paper, as SVG.

A template's sheet, 190 x 254 mm, fits within the margins of Letter and A4; two rulers tell whether
it was printed at true size. Other drawings in millimeters of paper have a
size of their own. Presentation attributes and classes only, black on white.
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

    def __init__(self, wide: float = WIDE, tall: float = TALL, *, name: str = "template") -> None:
        self.wide, self.tall, self.name = wide, tall, name
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

    def hatch(self, shape: BaseGeometry, spacing: float = 4.0, *, weight: float = FINE) -> None:
        """Hatch an area with lines at 45 degrees."""
        if shape.is_empty:
            return
        x0, y0, x1, y1 = shape.bounds
        start = x0 + y0 - (x0 + y0) % spacing
        steps = int((x1 + y1 - start) / spacing) + 1
        for k in range(1, steps):
            total = start + k * spacing
            across = LineString([(total - y0, y0), (total - y1, y1)])
            self.lines(across.intersection(shape), name="waste", weight=weight)

    def words(
        self,
        place: Point,
        text: str,
        *,
        size: float = 3.6,
        anchor: str = "start",
        turn: float = 0.0,
        name: str = "lettering",
        bold: bool = False,
    ) -> None:
        """Write text on paper of its own, its middle height at a point, turned clockwise."""
        x, y = place
        weight = ' font-weight="600"' if bold else ""
        turned = f' transform="rotate({_n(turn)} {_n(x)} {_n(y)})"' if turn else ""
        wide = lettering_width(text, size)
        left = {"start": x, "middle": x - wide / 2, "end": x - wide}[anchor] - 0.5
        self._parts.append(
            f'<rect class="paper" x="{_n(left)}" y="{_n(y - size * 0.6)}" width="{_n(wide + 1)}"'
            f' height="{_n(size * 1.2)}" fill="#fff"{turned}/>'
        )
        self._parts.append(
            f'<text class="{name}" x="{_n(x)}" y="{_n(y + size * 0.36)}" font-size="{size:g}"'
            f' text-anchor="{anchor}" fill="currentColor"{turned}'
            f"{weight}>{escape(text)}</text>"
        )

    def ring(self, place: Point, radius: float, text: str, *, size: float) -> None:
        """Write a number in a ring."""
        self._circle(place, radius, "ring", "#fff")
        self._in_circle(place, text, size, "#000")

    def disc(self, place: Point, radius: float, text: str, *, size: float) -> None:
        """Write a number white on a black disc."""
        self._circle(place, radius, "disc", "#000")
        self._in_circle(place, text, size, "#fff")

    def _circle(self, place: Point, radius: float, name: str, fill: str) -> None:
        self._parts.append(
            f'<circle class="{name}" cx="{_n(place[0])}" cy="{_n(place[1])}" r="{_n(radius)}"'
            f' fill="{fill}" stroke="currentColor" stroke-width="{THIN:g}"/>'
        )

    def _in_circle(self, place: Point, text: str, size: float, color: str) -> None:
        self._parts.append(
            f'<text class="number" x="{_n(place[0])}" y="{_n(place[1] + size * 0.36)}"'
            f' font-size="{size:g}" font-weight="600" text-anchor="middle"'
            f' fill="{color}">{escape(text)}</text>'
        )

    def area(self, points: Sequence[Point], *, name: str, fill: str = "#000") -> None:
        """Fill an area without a line round it."""
        data = "L".join(f"{_n(x)} {_n(y)}" for x, y in points)
        self._parts.append(f'<path class="{name}" d="M{data}Z" fill="{fill}"/>')

    def blank(self, a: Point, b: Point) -> None:
        """Lay paper over what is drawn between two corners, for words to stand on."""
        self.area([a, (b[0], a[1]), b, (a[0], b[1])], name="paper", fill="#fff")

    def dimension(self, a: Point, b: Point) -> None:
        """Draw a level or upright dimension line with ticks at 45 degrees."""
        self.line([a, b], name="dimension", weight=FINE)
        for x, y in (a, b):
            self.line([(x - 1, y + 1), (x + 1, y - 1)], name="tick", weight=THIN)

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
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{_n(self.wide)}mm"'
            f' height="{_n(self.tall)}mm" viewBox="0 0 {_n(self.wide)} {_n(self.tall)}"'
            f' role="img" class="{self.name}" color="#000"'
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
