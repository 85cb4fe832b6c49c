"""The cuts of one piece in words, each measured from the end and the edge that the piece keeps.

The board lies face up before a person who kneels on the laid floor and faces the next row:

        far edge
    +----------------+
    | left     right |
    +----------------+
        near edge
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from shapely.geometry import LineString, Polygon, box
from shapely.geometry import Point as ShapelyPoint

from layout.values.laid_pieces import LaidPiece
from layout.values.material import GoesIn, Lock, Side
from layout.values.outline import Point
from layout.values.plan import Cut, Offcut
from layout.values.tolerances import (
    BOX_TOLERANCE,
    CUT_LINE_TOLERANCE,
    LENGTH_TOLERANCE,
    MARK_TOLERANCE,
)
from layout.values.units import TAPE_STEP, length_words

_CORNERS = ("near left", "near right", "far right", "far left")
_PARTS = {
    frozenset({"near right", "far right"}): "right part",
    frozenset({"near left", "far left"}): "left part",
    frozenset({"far right", "far left"}): "far part",
    frozenset({"near right", "near left"}): "near part",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One cut in words, and the tool for it: score, saw or jigsaw."""

    text: str
    tool: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """A piece inside the board or offcut it is cut from, as the kneeling person sees them.

    ``shape`` and the rectangle ``from (0, 0) to (length, width)`` share coordinates: x to the
    right, y away from the person.
    """

    shape: Polygon
    length: float
    width: float


def how_in_words(way: GoesIn, lock: Lock | None, row: int) -> str:
    """Return in a sentence, without its full stop, how a trapped piece goes in."""
    match way:
        case GoesIn.ROW:
            return f"join all of row {row} off its place first, then tilt it in as one"
        case GoesIn.SLIDE if lock is Lock.GLUE:
            return "spread the glue, lay it flat, slide it under and pull it home at once"
        case GoesIn.SLIDE:
            return "lay it flat, slide it under and pull it home with a pull bar"
        case GoesIn.SHAVE:
            return "shave the lip, glue the joint if the maker allows it, and slide it in flat"
        case GoesIn.LOWER:
            return "cut off the lips, glue the joints if the maker allows it, and let it down flat"
        case GoesIn.MAKER:
            return "there is no room to tilt or drop it; ask the maker how this lock goes in"


def blank_of(piece: LaidPiece, offcut: Offcut | None, start: Side) -> Blank:
    """Return a piece in what it is cut from, turned to the person who lays from ``start``."""
    length, width = piece.piece.size
    x0, y0 = 0.0, 0.0
    if offcut is not None:
        (x0, y0), length, width = offcut.at, offcut.length, offcut.width

    def seen(ring: Sequence[Point]) -> list[Point]:
        points = [(x - x0, y - y0) for x, y in ring]
        if start is Side.HIGH:
            points = [(length - x, width - y) for x, y in points]
        return [(round(x, 6), round(y, 6)) for x, y in points]

    cut = piece.in_plank
    shape = Polygon(seen(cut.exterior.coords), [seen(ring.coords) for ring in cut.interiors])
    return Blank(shape=shape, length=length, width=width)


def _squared(shape: Polygon, near: float) -> Polygon:
    """Return a shape whose corners that lie ``near`` a side of its bounds lie on that side."""
    x0, y0, x1, y1 = shape.bounds

    def onto(value: float, sides: tuple[float, float]) -> float:
        return next((side for side in sides if abs(value - side) <= near), value)

    corners = [(onto(x, (x0, x1)), onto(y, (y0, y1))) for x, y in shape.exterior.coords]
    squared = Polygon(corners, shape.interiors)
    return squared if squared.is_valid else shape


class _Base(NamedTuple):
    """The end and the edge that marks are measured from."""

    end: str
    edge: str


class PieceMarks:
    """The marks of one piece, told from the end and edge that it keeps."""

    def __init__(self, blank: Blank, unit: str, tool: str) -> None:
        self.unit, self.tool = unit, tool
        self.figures: list[tuple[str, float]] = []  # (end or edge, where) of every figure told
        self.near_enough = LENGTH_TOLERANCE[unit]
        self.shape = _squared(blank.shape, self.near_enough)
        left, near, right, far = self.shape.bounds
        # A side is cut straight where an edge of the piece lies along it; a slanted end is cut
        # out of the board as it is.
        self.left = left if self._edge_at(0, left) else 0.0
        self.right = right if self._edge_at(0, right) else blank.length
        self.near = near if self._edge_at(1, near) else 0.0
        self.far = far if self._edge_at(1, far) else blank.width
        self.cuts = {
            "left": self.left > MARK_TOLERANCE,
            "right": self.right < blank.length - MARK_TOLERANCE,
            "near": self.near > MARK_TOLERANCE,
            "far": self.far < blank.width - MARK_TOLERANCE,
        }
        self.kept = {
            name
            for name, kept in (
                ("left", left < MARK_TOLERANCE and self._edge_at(0, left)),
                ("right", right > blank.length - MARK_TOLERANCE and self._edge_at(0, right)),
                ("near", near < MARK_TOLERANCE and self._edge_at(1, near)),
                ("far", far > blank.width - MARK_TOLERANCE and self._edge_at(1, far)),
            )
            if kept
        }
        self.end = "right" if "right" in self.kept and "left" not in self.kept else "left"
        self.edge = "far" if "far" in self.kept and "near" not in self.kept else "near"

    def steps(self, site: Cut | None) -> Iterator[Step]:
        """Yield the cuts in the order they are made; ``site``: the cut measured on site."""
        yield from self._crosscuts(site)
        yield from self._rips()
        for part in self.shaped():
            yield self._shaped(part)
        for ring in self.shape.interiors:
            yield self._hole(Polygon(ring))

    def shaped(self) -> list[Polygon]:
        """Return the parts of the squared board that notches and slanted cuts take."""
        frame = box(self.left, self.near, self.right, self.far)
        waste = frame.difference(Polygon(self.shape.exterior))
        parts = [p for p in getattr(waste, "geoms", [waste]) if isinstance(p, Polygon)]
        thin = TAPE_STEP[self.unit] / 4
        return sorted((p for p in parts if not p.buffer(-thin).is_empty), key=lambda p: p.bounds)

    def _words(self, value: float) -> str:
        return length_words(value, self.unit, on_tape=True)

    def _across_from(self, corner: str) -> _Base:
        """Return the end and edge across from a corner where they are kept: what is left there."""
        edge, end = corner.split()
        end = {"left": "right", "right": "left"}[end]
        edge = {"near": "far", "far": "near"}[edge]
        return _Base(
            end if end in self.kept else self.end, edge if edge in self.kept else self.edge
        )

    @property
    def _base(self) -> _Base:
        """The end and edge that marks are measured from."""
        return _Base(self.end, self.edge)

    def _along(self, x: float, base: _Base) -> str:
        """Return a place along the board."""
        self.figures.append((base.end, x))
        return self._words(x - self.left if base.end == "left" else self.right - x)

    def _across(self, y: float, base: _Base) -> str:
        """Return a place across the board."""
        self.figures.append((base.edge, y))
        return self._words(y - self.near if base.edge == "near" else self.far - y)

    def _crosscuts(self, site: Cut | None) -> Iterator[Step]:
        """Yield the square cuts across."""
        if self.cuts["left"] or self.cuts["right"]:
            self.figures.append((self.end, self.right if self.end == "left" else self.left))
        length = self._words(self.right - self.left)
        if self.cuts["left"] and self.cuts["right"]:
            text = f"Cut square at both ends to a length of {length}."
            yield Step(text=text, tool=self.tool)
        elif self.cuts["left"] or self.cuts["right"]:
            other = "right" if self.end == "left" else "left"
            about = "Cut square"
            if site is not None and site.limits is not None:
                least, most = (self._words(limit) for limit in site.limits)
                about = f"Measure on site, {least} to {most}; as drawn: cut square"
            text = f"{about} {length} from the {self.end} end; the {other} part goes."
            yield Step(text=text, tool=self.tool)

    def _rips(self) -> Iterator[Step]:
        """Yield the cuts along the board."""
        if self.cuts["near"] or self.cuts["far"]:
            self.figures.append((self.edge, self.far if self.edge == "near" else self.near))
        width = self._words(self.far - self.near)
        if self.cuts["near"] and self.cuts["far"]:
            yield Step(text=f"Rip along both edges to a width of {width}.", tool=self.tool)
        elif self.cuts["near"] or self.cuts["far"]:
            other = "far" if self.edge == "near" else "near"
            text = f"Rip {width} from the {self.edge} edge; the {other} part goes."
            yield Step(text=text, tool=self.tool)

    def _shaped(self, waste: Polygon) -> Step:
        """Return the notch or slanted cut that takes a part of what the straight cuts left."""
        line = self.cut_line(waste)
        gone = self._corners_gone(waste, line)
        goes = self._goes(gone, line)
        base = self._across_from(next(iter(gone))) if len(gone) == 1 else self._base
        if len(line) == 2:
            marks = " and ".join(self._mark(point, base) for point in line)
            return Step(text=f"Mark {marks}; cut along the line; {goes}.", tool=self.tool)
        level = all(
            abs(a[0] - b[0]) < MARK_TOLERANCE or abs(a[1] - b[1]) < MARK_TOLERANCE
            for a, b in pairwise(line)
        )
        if level and len(line) == 3 and len(gone) == 1:
            (x, y) = line[1]
            text = (
                f"Notch: mark {self._along(x, base)} from the {base.end} end and "
                f"{self._across(y, base)} from the {base.edge} edge, square to each other; {goes}."
            )
            return Step(text=text, tool="jigsaw")
        marks = ", ".join(self._mark(point, base) for point in line)
        return Step(text=f"Mark {marks}; cut from mark to mark; {goes}.", tool="jigsaw")

    def _mark(self, point: Point, base: _Base) -> str:
        """Return a point by its distance along a side that it lies on, else by both distances."""
        x, y = point
        for edge, at in (("near", self.near), ("far", self.far)):
            if abs(y - at) < MARK_TOLERANCE:
                return f"{self._along(x, base)} from the {base.end} end on the {edge} edge"
        across = f"{self._across(y, base)} from the {base.edge} edge"
        for end, at in (("left", self.left), ("right", self.right)):
            if abs(x - at) < MARK_TOLERANCE:
                return f"{across} on the {end} end"
        return f"{self._along(x, base)} from the {base.end} end and {across}"

    def cut_line(self, waste: Polygon) -> list[Point]:
        """Return the line that parts waste from piece, from left to right."""
        edges = list(pairwise(waste.exterior.coords))
        inner = [not self._on_side(a, b) for a, b in edges]
        turn = next((i for i in range(len(edges)) if inner[i] and not inner[i - 1]), 0)
        lines: list[list[Point]] = []
        for i in range(turn, turn + len(edges)):
            if inner[i % len(edges)]:
                a, b = edges[i % len(edges)]
                if lines and lines[-1][-1] == a:
                    lines[-1].append(b)
                else:
                    lines.append([a, b])
        longest = max((LineString(line) for line in lines), key=lambda line: line.length)
        points = list(longest.simplify(CUT_LINE_TOLERANCE).coords)
        return points if points[0] <= points[-1] else points[::-1]

    def _on_side(self, a: Point, b: Point) -> bool:
        """Whether an edge lies along a side of the squared board."""
        sides = ((0, self.left), (0, self.right), (1, self.near), (1, self.far))
        return any(
            abs(a[i] - at) < MARK_TOLERANCE and abs(b[i] - at) < MARK_TOLERANCE for i, at in sides
        )

    def _corners_gone(self, waste: Polygon, line: Sequence[Point]) -> frozenset[str]:
        """Return the corners of the squared board that go with a part, marks told as they are."""
        at = {
            "near left": (self.left, self.near),
            "near right": (self.right, self.near),
            "far right": (self.right, self.far),
            "far left": (self.left, self.far),
        }
        grown = waste.buffer(MARK_TOLERANCE)
        corners = [name for name in _CORNERS if grown.contains(ShapelyPoint(at[name]))]
        if len(line) > 2:
            return frozenset(corners)
        near = TAPE_STEP[self.unit] / 2  # a mark nearer to a corner is told as the corner
        met = {name for name in corners if any(math.dist(at[name], end) < near for end in line)}
        return frozenset(corners) - (met if len(met) < len(corners) else set())

    def _goes(self, gone: frozenset[str], line: Sequence[Point]) -> str:
        """Return in words which part goes."""
        if len(gone) == 1:
            return f"the {next(iter(gone))} corner goes"
        if gone in _PARTS:
            return f"the {_PARTS[gone]} goes"
        if len(gone) == 3:
            (left,) = set(_CORNERS) - gone
            return f"only the {left} corner stays"
        side = self._side_under(line)
        return f"what lies between them and the {side} {'goes' if not gone else 'stays'}"

    def _side_under(self, line: Sequence[Point]) -> str:
        """Return the side of the board on which a line begins and ends."""
        (ax, ay), (bx, by) = line[0], line[-1]
        off = {
            "left end": max(ax, bx) - self.left,
            "right end": self.right - min(ax, bx),
            "near edge": max(ay, by) - self.near,
            "far edge": self.far - min(ay, by),
        }
        return min(off, key=lambda side: off[side])

    def _hole(self, hole: Polygon) -> Step:
        """Return the cut-out inside a piece."""
        x0, y0, x1, y1 = hole.bounds
        base = self._base
        if hole.area > (x1 - x0) * (y1 - y0) - BOX_TOLERANCE:
            xs = sorted((x0, x1), reverse=self.end == "right")
            ys = sorted((y0, y1), reverse=self.edge == "far")
            text = (
                f"Cut out {self._along(xs[0], base)} to {self._along(xs[1], base)} from the "
                f"{base.end} end, {self._across(ys[0], base)} to {self._across(ys[1], base)} from "
                f"the {base.edge} edge."
            )
            return Step(text=text, tool="jigsaw")
        marks = ", ".join(self._mark(point, base) for point in list(hole.exterior.coords)[:-1])
        return Step(text=f"Cut out inside the marks {marks}.", tool="jigsaw")

    def _edge_at(self, axis: int, at: float) -> bool:
        """Whether an edge of the piece lies along a straight line of its bounds."""
        points = list(self.shape.exterior.coords)
        return any(
            abs(a[axis] - at) < MARK_TOLERANCE and abs(b[axis] - at) < MARK_TOLERANCE
            for a, b in pairwise(points)
        )
