"""A sheet for strips: one unit of the drawing is one millimeter of paper, sizes in points.

Presentation attributes and classes only, black on white. Hatched is cut off, nothing else is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from layout.drawing.strips.inter import inter_width
from layout.drawing.true_size import TrueSize
from layout.values.outline import Point
from layout.values.units import MM_PER_INCH

POINT = float(MM_PER_INCH) / 72  # millimeters
FIGURE, WORD, LEAST = 14 * POINT, 10 * POINT, 9 * POINT
SAWN, EDGE, FINE = 0.9, 0.3, 0.18  # weights: what one cuts, what came, hatches
WRITE, STACK = 0.5, 0.4  # boxes to write in, boxes of a stack
_DISC, _BOX = 2.1, 0.45
DISC_WIDTH = 2 * _DISC + 0.8


@dataclass(frozen=True, slots=True, kw_only=True)
class Token:
    """One word of a line of lettering: plain, bold, in a box (a stack), or on a disc (a cut)."""

    text: str
    size: float = WORD
    bold: bool = False
    form: str = "plain"
    glued: bool = False

    @property
    def wide(self) -> float:
        """How wide it comes out."""
        if self.form == "disc":
            return DISC_WIDTH
        extra = 4 * _BOX if self.form == "box" else 0.0
        return inter_width(self.text, self.size, bold=self.bold) + extra

    @property
    def gap(self) -> float:
        """What stays free behind it."""
        return 0.0 if self.glued else 0.28 * self.size


def tokens_width(tokens: Sequence[Token]) -> float:
    """Return how wide a line of words comes out."""
    return sum(token.wide + token.gap for token in tokens[:-1]) + (tokens[-1].wide if tokens else 0)


class StripPaper(TrueSize):
    """A sheet of strips in the making; points are millimeters from its upper left corner."""

    def __init__(self, wide: float, tall: float) -> None:
        super().__init__()
        self.wide, self.tall = wide, tall

    def text(
        self,
        place: Point,
        text: str,
        *,
        size: float = WORD,
        bold: bool = False,
        anchor: str = "start",
        white: bool = False,
        turn: float = 0.0,
    ) -> None:
        """Write text on a base line."""
        x, y = place
        weight = ' font-weight="600"' if bold else ""
        turned = f' transform="rotate({turn:g} {_n(x)} {_n(y)})"' if turn else ""
        color = "#fff" if white else "#000"
        self._parts.append(
            f'<text x="{_n(x)}" y="{_n(y)}" font-size="{size:.4g}" text-anchor="{anchor}"'
            f'{weight} fill="{color}"{turned}>{escape(text)}</text>'
        )

    def tokens(self, place: Point, tokens: Sequence[Token]) -> None:
        """Write a line of words from a place on its base line on."""
        x, y = place
        for token in tokens:
            if token.form == "disc":
                self.number((x + _DISC, y - 0.36 * token.size), token.text)
            elif token.form == "box":
                self.box(x, y - token.size * 0.92, token.wide, token.size * 1.14, weight=STACK)
                self.text((x + token.wide / 2, y), token.text, bold=True, anchor="middle")
            else:
                self.text((x, y), token.text, size=token.size, bold=token.bold)
            x += token.wide + token.gap

    def box(self, x: float, y: float, wide: float, tall: float, *, weight: float = EDGE) -> None:
        """Draw a box from its upper left corner."""
        ring = [(x, y), (x + wide, y), (x + wide, y + tall), (x, y + tall), (x, y)]
        self.line(ring, name="box", weight=weight)

    def number(self, middle: Point, text: str) -> None:
        """Draw the number of a cut, white on a black disc."""
        x, y = middle
        self._parts.append(
            f'<circle class="cut" cx="{_n(x)}" cy="{_n(y)}" r="{_DISC}" fill="#000"/>'
        )
        self.text((x, y + LEAST * 0.36), text, size=LEAST, bold=True, anchor="middle", white=True)

    def row_ring(self, middle: Point, text: str, *, radius: float = 3.6) -> None:
        """Draw the number of a row in a ring."""
        x, y = middle
        size = (FIGURE, FIGURE * 0.85, WORD)[min(len(text), 3) - 1]
        self._parts.append(
            f'<circle class="ring" cx="{_n(x)}" cy="{_n(y)}" r="{radius}" fill="none"'
            f' stroke="currentColor" stroke-width="{EDGE * 1.5:g}"/>'
        )
        self.text((x, y + size * 0.36), text, size=size, bold=True, anchor="middle")

    def sheet(self, title: str, description: str) -> str:
        """Return the sheet as SVG in true size."""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{self.wide:g}mm"'
            f' height="{_n(self.tall)}mm" viewBox="0 0 {self.wide:g} {_n(self.tall)}" role="img"'
            f' class="strips" color="#000" fill="none"'
            f' font-family="Inter, DejaVu Sans, sans-serif">'
            f"<title>{escape(title)}</title><desc>{escape(description)}</desc>"
            f"{''.join(self._parts)}</svg>\n"
        )


def _n(value: float) -> str:
    """Return a number with at most three decimals."""
    return f"{round(value, 3) + 0.0:.10g}"
