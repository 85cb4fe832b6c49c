"""A sheet of paper for working drawings: line weights, lettering, dimensions, hatches, as SVG.

One thousand paper units are the width of the sheet; on a page 180 mm wide a unit is 0.18 mm. Line
weights step by about the square root of two twice, as in ISO 128: walls, rows, joints. Everything
is drawn with presentation attributes and classes, in ``currentColor`` on ``paper``, so that a style
sheet can recolor it for a dark screen and a printer needs none.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from html import escape

from layout.drawing.fills import dotted, hatched
from layout.drawing.lettering import Spot, Taken, lettering_width
from layout.values.outline import Point
from layout.values.tolerances import TOUCHING_TOLERANCE
from layout.values.units import length_words

SHEET = 1000.0
WALL, OBJECT, ROW, JOINT, FINE = 4.0, 2.4, 1.6, 0.9, 0.7
LETTER, SMALL = 18.0, 14.0
_TALLEST = 1000.0
_TICK = 7.0
_NICE_INCHES = (6, 12, 24, 36, 60, 120, 240, 360, 600, 1200)
_NICE_MM = (100, 200, 500, 1000, 2000, 5000, 10_000, 20_000)


class Margins:
    """What stays free around the drawing, in paper units."""

    def __init__(self, *, left: float, right: float, top: float, bottom: float) -> None:
        self.left, self.right, self.top, self.bottom = left, right, top, bottom


class DrawingPaper:
    """A drawing in the making: points of the room in, SVG out.

    ``ident`` begins every id inside, so that several drawings may stand in one page. ``letters``
    stretches all lettering, for a drawing that is printed small.
    """

    def __init__(
        self,
        bounds: tuple[float, float, float, float],
        *,
        unit: str,
        margins: Margins,
        ident: str,
        letters: float = 1.0,
    ) -> None:
        self.letters = letters
        x0, y0, x1, y1 = bounds
        wide, tall = (max(extent, TOUCHING_TOLERANCE) for extent in (x1 - x0, y1 - y0))
        across = SHEET - margins.left - margins.right
        self.scale = min(across / wide, _TALLEST / tall)
        self.unit = unit
        self.ident = ident
        self._left = margins.left + (across - wide * self.scale) / 2 - x0 * self.scale
        self._top = margins.top + y1 * self.scale
        self.left, self.right = self._left + x0 * self.scale, self._left + x1 * self.scale
        self.top, self.bottom = margins.top, margins.top + tall * self.scale
        self.height = self.bottom + margins.bottom
        self.taken = Taken(SHEET, self.height)
        self._parts: list[str] = []
        self.clear = ""

    def at(self, point: Point) -> Point:
        """Return a point of the room on the paper, y downwards."""
        return self._left + point[0] * self.scale, self._top - point[1] * self.scale

    def back(self, place: Point) -> Point:
        """Return the point of the room at a point of the paper."""
        return (place[0] - self._left) / self.scale, (self._top - place[1]) / self.scale

    def lines(
        self,
        paths: Iterable[Sequence[Point]],
        *,
        name: str,
        weight: float,
        dash: str = "",
        closed: bool = False,
        fill: str = "none",
        color: str = "currentColor",
    ) -> None:
        """Draw paths through points of the room with one line weight."""
        data = "".join(_path([self.at(point) for point in path], closed) for path in paths)
        if not data:
            return
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        drawn = f'stroke="{color}" stroke-width="{weight:g}"' if weight else 'stroke="none"'
        self._parts.append(
            f'<path class="{name}" d="{data}" fill="{fill}" fill-rule="evenodd" {drawn}'
            f' stroke-linejoin="miter"{dashed}/>'
        )

    def stroke(
        self,
        a: Point,
        b: Point,
        *,
        weight: float = FINE,
        name: str = "dimension",
        dash: str = "",
    ) -> None:
        """Draw a straight line between two points of the paper."""
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        self._parts.append(
            f'<path class="{name}" d="M{_n(a[0])} {_n(a[1])}L{_n(b[0])} {_n(b[1])}" fill="none"'
            f' stroke="currentColor" stroke-width="{weight:g}"{dashed}/>'
        )
        self.taken.line((a, b))

    def letter(
        self,
        place: Point,
        text: str,
        *,
        size: float = LETTER,
        anchor: str = "middle",
        turn: float = 0.0,
        name: str = "lettering",
        backed: bool = False,
    ) -> None:
        """Write text with its middle height at a point of the paper, turned clockwise by degrees.

        ``backed`` lays paper under it, where it stands over lines.
        """
        x, y = place
        size = round(size * self.letters, 1)
        self.taken.letter(text, size, Spot(at=place, anchor=anchor, turn=turn))
        turned = f' transform="rotate({_n(turn)} {_n(x)} {_n(y)})"' if turn else ""
        if backed:
            wide = lettering_width(text, size)
            left = {"start": x, "middle": x - wide / 2, "end": x - wide}[anchor] - 3
            self._parts.append(
                f'<rect class="paper" x="{_n(left)}" y="{_n(y - size * 0.62)}" fill="#fff"'
                f' width="{_n(wide + 6)}" height="{_n(size * 1.24)}"{turned}/>'
            )
        self._parts.append(
            f'<text class="{name}" x="{_n(x)}" y="{_n(y + size * 0.36)}" font-size="{size:g}"'
            f' text-anchor="{anchor}" fill="currentColor"{turned}>{escape(text)}</text>'
        )

    def marks(self, written: Sequence[tuple[Point, str]], *, size: float, name: str) -> None:
        """Write small texts, paper under each, which other lettering may stand over."""
        if not written:
            return
        patches = [(x, y, lettering_width(text, size) / 2 + 1) for (x, y), text in written]
        tall = size * 0.55
        corners = (
            [(x - w, y - tall), (x + w, y - tall), (x + w, y + tall), (x - w, y + tall)]
            for x, y, w in patches
        )
        self._fill("paper", "".join(_path(ring, closed=True) for ring in corners), "#fff")
        texts = "".join(
            f'<text x="{_n(x)}" y="{_n(y + size * 0.36)}">{escape(text)}</text>'
            for (x, y), text in written
        )
        self._parts.append(
            f'<g class="{name}" font-size="{size:g}" text-anchor="middle"'
            f' fill="currentColor">{texts}</g>'
        )

    def word(self, text: str, spots: Iterable[Spot], *, name: str, most: float = math.inf) -> bool:
        """Whether a small word was written, where it stands best; at a leader line if off.

        There must be room for it at a cost of ``most`` (see `Taken.best`).
        """
        spot = self.taken.best(text, SMALL * self.letters, spots, most)
        if spot is None:
            return False
        if spot.leader:
            self.stroke(spot.leader, spot.at, name="leader")
            self.dot(spot.leader)
        self.letter(
            spot.at, text, size=SMALL, anchor=spot.anchor, turn=spot.turn, name=name, backed=True
        )
        return True

    def dot(self, place: Point, *, name: str = "leader") -> None:
        """Draw the dot where a leader line begins."""
        self._parts.append(
            f'<circle class="{name}" cx="{_n(place[0])}" cy="{_n(place[1])}" r="2.4"'
            ' fill="currentColor"/>'
        )

    def pieces(
        self, named: Iterable[tuple[str, bool, Sequence[Sequence[Point]]]], *, fill: str
    ) -> None:
        """Draw the shapes of pieces: (id, whether it is cut, rings), cut ones with ``fill``.

        Over the fill lies a clear shape for each, to be pointed at: ``data-piece`` is its id.
        """
        drawn = [
            (escape(ident), cut, "".join(_path([self.at(p) for p in ring], True) for ring in rings))
            for ident, cut, rings in named
        ]
        self._fill("cut-piece", "".join(data for _, cut, data in drawn if cut), fill)
        shapes = "".join(
            f'<path class="piece {"cut" if cut else "whole"}" data-piece="{ident}" d="{data}"/>'
            for ident, cut, data in drawn
        )
        self.clear = f'<g class="pieces" fill="none" pointer-events="all">{shapes}</g>'

    def links(self, named: Iterable[tuple[str, str, Sequence[Point]]]) -> None:
        """Lay a clear shape that leads somewhere over each piece: (address, what it is, outline).

        They are for a finger or a mouse: by keyboard one goes through a list of the same.
        """
        linked = "".join(
            f'<a href="{escape(to)}" aria-label="{escape(called)}" tabindex="-1">'
            f'<path class="piece" d="{_path([self.at(point) for point in ring], True)}"/></a>'
            for to, called, ring in named
        )
        self.clear = f'<g class="pieces" fill="none" pointer-events="all">{linked}</g>'

    def _fill(self, name: str, data: str, fill: str) -> None:
        """Fill an area without a line round it."""
        if data:
            self._parts.append(
                f'<path class="{name}" d="{data}" fill="{fill}" fill-rule="evenodd" stroke="none"/>'
            )

    def ring(self, place: Point, radius: float, text: str) -> None:
        """Draw a number in a ring at a point of the paper."""
        x, y = place
        self._parts.append(
            f'<circle class="paper ring" cx="{_n(x)}" cy="{_n(y)}" r="{_n(radius)}" fill="#fff"'
            f' stroke="currentColor" stroke-width="{FINE:g}"/>'
        )
        self.taken.patch(x - radius, y - radius, x + radius, y + radius)
        size = radius * (1.15 if len(text) < 3 else 0.9)
        self.letter(place, text, size=round(size, 1) / self.letters, name="row-number")

    def dimension(self, a: Point, b: Point, text: str, *, level: bool = False) -> None:
        """Draw a dimension line with ticks between two points of the paper.

        The text, if any, stands on its left as seen from ``a`` to ``b``; ``level`` writes it beside
        an upright line, as is done where the line is too short for it.
        """
        length = math.dist(a, b)
        if length < TOUCHING_TOLERANCE:
            return
        ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
        self.stroke(a, b)
        for x, y in (a, b):  # ticks at 45 degrees to the line
            dx, dy = (ux - uy) * _TICK / 1.4, (uy + ux) * _TICK / 1.4
            self.stroke((x - dx, y - dy), (x + dx, y + dy), weight=ROW)
        if not text:
            return
        turn = math.degrees(math.atan2(uy, ux))
        upright = turn if -90 < turn <= 90.001 else turn - math.copysign(180, turn)
        if abs(upright - 90) < 0.01:
            upright = -90.0
        off = LETTER * self.letters * 0.8
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        short = level or lettering_width(text, LETTER * self.letters) > length - 16
        if short and abs(uy) > 0.99:
            self.letter((middle[0] + 6 + 4 * self.letters, middle[1]), text, anchor="start")
            return
        self.letter((middle[0] + uy * off, middle[1] - ux * off), text, turn=upright)

    def patch(self, corners: Sequence[Point], *, fill: str) -> None:
        """Draw a small outlined area through points of the paper."""
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        self.taken.patch(min(xs), min(ys), max(xs), max(ys))
        data = _path(corners, closed=True)
        self._parts.append(
            f'<path class="patch" d="{data}" fill="{fill}" stroke="currentColor"'
            f' stroke-width="{FINE:g}"/>'
        )

    def hatch(self, name: str, spacing: float, *, turn: float = 0.0) -> str:
        """Define a hatch, which says taken away, and return the fill that uses it.

        Its lines stand at 45 degrees to boards that lie ``turn`` degrees counter-clockwise.
        """
        turned = f' patternTransform="rotate({_n(-turn)})"' if turn % 90 else ""
        return self._pattern(name, hatched(f"{self.ident}-{name}", _n(spacing), FINE, turned))

    def dots(self, name: str, spacing: float) -> str:
        """Define dots a step apart, and return the fill that uses them."""
        return self._pattern(name, dotted(f"{self.ident}-{name}", _n(spacing), _n(spacing / 2)))

    def _pattern(self, name: str, defined: str) -> str:
        """Keep what is drawn again and again, and return the fill that uses it."""
        self._parts.append(defined)
        return f"url(#{self.ident}-{name})"

    def scale_bar(self, place: Point, widest: float) -> None:
        """Draw a scale bar of a round length at most ``widest`` from a point of the paper."""
        nice = _NICE_MM if self.unit == "mm" else _NICE_INCHES
        fits = [length for length in nice if length * self.scale <= widest]
        length = fits[-1] if fits else nice[0]
        x, y = place
        end, middle = x + length * self.scale, x + length * self.scale / 2
        self.stroke((x, y), (end, y), weight=OBJECT, name="scale-bar")
        for at in (x, middle, end):
            self.stroke((at, y - 6), (at, y + 6), weight=ROW, name="scale-bar")
        self.letter((x, y + 20), "0", size=SMALL)
        self.letter((end, y + 20), self.length(length, whole=True), size=SMALL)

    def arrow(self, a: Point, b: Point, *, name: str = "arrow") -> None:
        """Draw an arrow between two points of the paper."""
        length = math.dist(a, b)
        ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
        self.stroke(a, b, weight=ROW, name=name)
        head = [(-16 * ux - 6 * uy, -16 * uy + 6 * ux), (0, 0)]
        head.append((-16 * ux + 6 * uy, -16 * uy - 6 * ux))
        data = _path([(b[0] + x, b[1] + y) for x, y in head], closed=True)
        self._parts.append(f'<path class="{name}" d="{data}" fill="currentColor"/>')

    def length(self, value: float, *, whole: bool = False) -> str:
        """Return a length of the room in words; ``whole`` without inches after whole feet."""
        words = length_words(value, self.unit)
        return words.removesuffix(' 0"') if whole else words

    def figure(self, value: float) -> str:
        """Return a length of the room as it is marked on a board, in inches or millimeters."""
        return length_words(value, self.unit, on_tape=True)

    def svg(self, title: str, description: str = "", *, role: str = "img") -> str:
        """Return the drawing as SVG, its title first; one with links in it is a ``group``."""
        described = f"<desc>{escape(description)}</desc>" if description else ""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {SHEET:g} {_n(self.height)}"'
            f' role="{role}" class="drawing" color="#1E2329" fill="none"'
            f' font-family="Inter, DejaVu Sans, sans-serif">'
            f"<title>{escape(title)}</title>{described}{''.join(self._parts)}{self.clear}</svg>\n"
        )


def _path(points: Sequence[Point], closed: bool) -> str:
    """Return path data through points of the paper."""
    if not points:
        return ""
    moves = "L".join(f"{_n(x)} {_n(y)}" for x, y in points)
    return f"M{moves}{'Z' if closed else ''}"


def _n(value: float) -> str:
    """Return a number with at most one decimal."""
    text = f"{value:.1f}"
    return text.removesuffix(".0") if text != "-0.0" else "0"
