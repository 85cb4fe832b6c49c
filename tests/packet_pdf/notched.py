"""Notched planks read from their pages: the thick outline, its corners by the figures printed.

A figure stands before the end or edge that it is measured from, ``22⅞" from left``. The drawing is
to scale: the board in hand is as wide as its dashed rim. What lies on the rim is left as it came.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Spot

from layout.values.units import MM_PER_INCH, TAPE_STEP
from tests.packet_pdf.grammar import NAME
from tests.packet_pdf.pages import PageLine, PageWord, Point, ReadPage
from tests.sweeps.kneeling import Kneeling
from tests.sweeps.lengths import FIGURE, figure

_LINE = 2.0  # points: what stands beside a name is on its line
_THICK, _FINE = 0.6, 0.18
_MM = 72 / float(MM_PER_INCH)
_SIDES = ("left", "right", "near", "far")
_ON_RIM = 0.4  # points: what lies so near to the dashed rim lies on it
_SEEN = 0.11  # of a piece: what is shown of the board past its ends, at least
_KIND = re.compile(
    r"(?:(?P<n>\d+) )?(?P<kind>cut across|rip|cut at an angle|notch|cut out), [a-z]+"
    r"(?:: mark (?P<one>.+?) and (?P<other>.+?); the (?P<side>[a-z]+) part goes)?"
)
_STRAIGHT = frozenset({"cut across", "rip", "cut at an angle"})
Bounds = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class NotchedCut:
    """A cut of a notched plank by its number, where it goes straight through, and what goes.

    ``side`` is told in words; without it all that lies outside the outline goes.
    """

    n: int | None
    edge: tuple[Point, Point] | None = None
    side: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedNotched:
    """What stays of a notched plank on the part in hand, and its cuts there."""

    shape: Polygon
    cuts: tuple[NotchedCut, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class NotchedReading:
    """A notched plank on its page, all in points: outlines, the rim of the board, figures, cuts.

    ``cuts`` are what is said of each cut, ``discs`` where their numbers stand, ``spots`` where each
    figure does.
    """

    name: str
    outlines: tuple[PageLine, ...]
    rim: tuple[PageLine, ...]
    figures: tuple[tuple[float, str], ...]
    spots: tuple[Point, ...]
    cuts: tuple[dict[str, str | None], ...]
    discs: dict[int, Point]

    def on(self, part: Polygon, size: Point, unit: str) -> PlacedNotched:
        """Return what stays, laid on the part in hand as a person does who holds the drawing by.

        ``size`` is that of the board as it came, ``unit`` that of the tape.
        """
        return _Laying(self, part, size, unit).placed()

    @property
    def numbers(self) -> tuple[int | None, ...]:
        """The numbers of its cuts, None for one that has none."""
        return tuple(int(cut["n"]) if cut["n"] else None for cut in self.cuts)


def notched_of(pages: Sequence[ReadPage]) -> dict[str, NotchedReading]:
    """Return the notched planks of some pages, by name."""
    readings: dict[str, NotchedReading] = {}
    for page in pages:
        heads = [w for w in page.words if w.size > 13 and re.fullmatch(NAME, w.text)]
        outlines = [o for o in page.lines if abs(o.weight / _MM - _THICK) < 0.02 and o.closed]
        if not outlines:
            continue
        heads.sort(key=lambda word: -word.y)
        for head, after in zip(heads, [*heads[1:], None], strict=True):
            low = after.y + _LINE if after else 0.0
            mine = [o for o in outlines if low < o.bounds[1] and o.bounds[3] < head.y]
            if mine:
                readings[head.text] = _reading(page, head, mine, low)
    return readings


def _reading(
    page: ReadPage, head: PageWord, outlines: Sequence[PageLine], low: float
) -> NotchedReading:
    """Return one plank."""
    mine = [w for w in page.words if low < w.y < head.y + _LINE and w is not head]
    outer = max(outlines, key=lambda one: _area(one.bounds))
    details = [w.y for w in mine if w.text == "size" and w.y < outer.bounds[1]]
    low = max(details, default=low)
    rim = [
        line
        for line in page.lines
        if line.dashed and low < line.bounds[1] and line.bounds[3] < head.y
    ]
    read = [*_figures(mine)]
    return NotchedReading(
        name=head.text,
        outlines=(outer, *(one for one in outlines if one is not outer)),
        rim=tuple(rim),
        figures=tuple((value, base) for value, base, _ in read),
        spots=tuple(spot for _, _, spot in read),
        cuts=tuple(_kinds([w for w in mine if w.y > outer.bounds[3]])),
        discs={
            int(w.text): ((w.x0 + w.x1) / 2, w.y + 0.36 * w.size)
            for w in mine
            if w.white and w.text.isdigit()
        },
    )


def _area(bounds: Bounds) -> float:
    return (bounds[2] - bounds[0]) * (bounds[3] - bounds[1])


def _kinds(words: Sequence[PageWord]) -> Iterator[dict[str, str | None]]:
    """Yield what is said of the cuts under the name of a plank."""
    small = sorted((w for w in words if w.size < 13), key=lambda one: (-round(one.y), one.x0))
    for read in _KIND.finditer(" ".join(w.text for w in small)):
        yield read.groupdict()


def _figures(words: Sequence[PageWord]) -> Iterator[tuple[float, str, Point]]:
    """Yield figures with the end or edge that each is measured from, and where it stands."""
    for word in words:
        if word.size < 13:
            continue
        beside = sorted(
            (w for w in words if abs(w.y - word.y) < 3 and -3 < w.x0 - word.x1 < 60),
            key=lambda one: one.x0,
        )
        unit = beside[:1] and beside[0].text == "mm"
        text = f"{word.text} mm" if unit else word.text
        base = [w.text for w in beside if w.text in ("from", *_SIDES)]
        if re.fullmatch(FIGURE, text) and base[:1] == ["from"] and len(base) > 1:
            yield figure(text), base[1], ((word.x0 + word.x1) / 2, word.y)


class _Laying:
    """The drawing of a plank beside the part in hand."""

    def __init__(self, reading: NotchedReading, part: Polygon, size: Point, unit: str) -> None:
        self.reading, self.part, self.size = reading, part, size
        self.unit, self.step = unit, TAPE_STEP[unit]
        self.outer = reading.outlines[0].bounds
        corners = [p for line in reading.rim for p in line.points] or [(0.0, 0.0)]
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        self.rim = (min(xs), min(ys), max(xs), max(ys))
        self.flush = [abs(a - b) < _ON_RIM for a, b in zip(self.outer, self.rim, strict=True)]
        self.scale = self._scale()

    def _scale(self) -> float:
        """Return the points of an inch or millimeter: by the board's width, then by figures."""
        left, low, right, high = self.part.bounds
        if self.flush[0] and self.flush[2]:
            return float((self.rim[2] - self.rim[0]) / (right - left))
        scale = float((self.rim[3] - self.rim[1]) / (high - low))
        pairs = []
        for value, base in self.reading.figures:
            off = min(self._distances(base), key=lambda d: abs(d - value * scale))
            if abs(off - value * scale) < max(0.6 * self.step * scale, 0.004 * off):
                pairs.append((value, off))
        squares = sum(f * f for f, _ in pairs)
        if squares < (high - low) ** 2:
            return float(scale)
        return sum(f * d for f, d in pairs) / squares

    def _distances(self, base: str) -> Iterator[float]:
        """Yield how far corners lie from an end or edge of the outline, or of the board."""
        x0, y0, x1, y1 = self.outer
        for frame in (self.outer, self.rim):
            x0, y0, x1, y1 = frame
            for one in self.reading.outlines:
                for x, y in one.points:
                    yield {"left": x - x0, "right": x1 - x, "near": y - y0, "far": y1 - y}[base]

    def placed(self) -> PlacedNotched:
        """Return the shape on the part in hand, and its cuts."""
        rings = [
            [(self._at((x, y), 0), self._at((x, y), 1)) for x, y in one.points]
            for one in self.reading.outlines
        ]
        return PlacedNotched(shape=Polygon(rings[0], rings[1:]), cuts=tuple(self._cuts(rings[0])))

    def _at(self, corner: Point, axis: int) -> float:
        """Return a place of the page on the board: by the figure that stands there, or to scale.

        A figure on the corner's own side goes first, also where a corner lies so near to an end
        that the drawing shows them as one.
        """
        begin, end = self._origin(axis)
        low, high = self.outer[axis], self.outer[axis + 2]
        value = corner[axis]
        at = begin + (value - low) / (high - low) * (end - begin)
        mine = [*self._places(axis, begin, end, corner)]
        best = min(mine, key=lambda place: abs(place - at), default=at)
        if mine and abs(best - at) < 1.2 * self.step:
            return best
        if abs(value - low) < _ON_RIM / 2:
            return begin
        if abs(value - high) < _ON_RIM / 2:
            return end
        places = [*self._places(axis, begin, end)]
        best = min(places, key=lambda place: abs(place - at), default=at)
        return best if abs(best - at) < self._near(at - begin) else at

    def _near(self, value: float) -> float:
        return max(1.2 * self.step, 0.002 * abs(value))

    def _places(
        self, axis: int, begin: float, end: float, corner: Point | None = None
    ) -> Iterator[float]:
        """Yield the places along one axis that figures tell; only those on a corner's side."""
        first, last = _SIDES[2 * axis : 2 * axis + 2]
        board = self._from_board(axis)
        for (value, base), spot in zip(self.reading.figures, self.reading.spots, strict=True):
            if corner is not None and not self._beside(spot, corner, 1 - axis):
                continue
            if base == first:
                yield value if board else begin + value
            elif base == last:
                yield self.size[axis] - value if board else end - value

    def _beside(self, spot: Point, corner: Point, axis: int) -> bool:
        """Whether a figure stands off the outline on the side that a corner lies on."""
        low, high = self.outer[axis], self.outer[axis + 2]
        if corner[axis] > (low + high) / 2:
            return spot[axis] > high
        return spot[axis] < low

    def _from_board(self, axis: int) -> bool:
        """Whether figures are measured from the dashed end: no end of the piece holds a tape."""
        ends = self.outer[axis], self.outer[axis + 2]
        points = self.reading.outlines[0].points
        straight = any(
            abs(a[axis] - end) < _ON_RIM / 2 and abs(b[axis] - end) < _ON_RIM / 2
            for a, b in pairwise(points)
            for end in ends
        )
        return not (straight or self.flush[axis] or self.flush[axis + 2])

    def _origin(self, axis: int) -> tuple[float, float]:
        """Return from where to where the outline reaches on the part in hand, along one axis."""
        low, high = self.part.bounds[axis], self.part.bounds[axis + 2]
        if self.flush[axis] and self.flush[axis + 2]:
            return low, high
        long = self._long(axis)
        gap_low = (self.outer[axis] - self.rim[axis]) / self.scale
        gap_high = (self.rim[axis + 2] - self.outer[axis + 2]) / self.scale
        if self.flush[axis]:
            return low, low + long
        if self.flush[axis + 2]:
            return high - long, high
        begin, end = low + gap_low, high - gap_high
        shown_low, shown_high = (axis == 1 or gap < _SEEN * long for gap in (gap_low, gap_high))
        marks = [*self._board_places(axis, begin, end, long)] if self._from_board(axis) else []
        if marks:
            return marks[0]
        if shown_high and (not shown_low or gap_high < gap_low):
            return end - long, end
        return begin, begin + long

    def _long(self, axis: int) -> float:
        """Return how long the outline is along one axis, by its figure where one tells it."""
        long = (self.outer[axis + 2] - self.outer[axis]) / self.scale
        sides = _SIDES[2 * axis : 2 * axis + 2]
        figures = [value for value, base in self.reading.figures if base in sides]
        best = min(figures, key=lambda value: abs(value - long), default=long)
        return best if abs(best - long) < self._near(long) else long

    def _board_places(
        self, axis: int, begin: float, end: float, long: float
    ) -> Iterator[tuple[float, float]]:
        """Yield both ends of the outline where figures tell them from an end of the board."""
        first, last = _SIDES[2 * axis : 2 * axis + 2]
        low = [value for value, base in self.reading.figures if base == first]
        high = [self.size[axis] - value for value, base in self.reading.figures if base == last]
        for places in (low, high):
            starts = [p for p in places if abs(p - begin) < self._near(long)]
            ends = [p for p in places if abs(p - end) < self._near(long)]
            if starts and ends:
                yield starts[0], ends[0]
            for start in starts:
                yield start, start + long
            for stop in ends:
                yield stop - long, stop

    def _cuts(self, ring: Sequence[Point]) -> Iterator[NotchedCut]:
        """Yield the cuts by number, each with its edge of the outline where it goes through."""
        points = self.reading.outlines[0].points
        edges = [*zip(pairwise(points), pairwise(ring), strict=True)]
        sawn = [pair for pair in edges if not self._on_rim(*pair)]
        for n, cut in zip(self.reading.numbers, self.reading.cuts, strict=True):
            if cut["one"] and cut["other"]:
                hand = Kneeling(part=self.part, size=self.size, unit=self.unit)
                path = hand.mark(cut["one"]), hand.mark(cut["other"])
                yield NotchedCut(n=n, edge=path, side=cut["side"] or "")
                continue
            edge = None
            if cut["kind"] in _STRAIGHT and sawn:
                disc = self.reading.discs.get(n) if n is not None else None
                if disc is None:
                    edge = max(sawn, key=lambda pair: LineString(pair[0]).length)[1]
                else:
                    edge = min(sawn, key=lambda pair: LineString(pair[0]).distance(Spot(disc)))[1]
            yield NotchedCut(n=n, edge=edge)

    def _on_rim(self, edge: tuple[Point, Point], placed: tuple[Point, Point]) -> bool:
        """Whether an edge of the outline lies on the dashed rim: it is left as it came.

        An edge that figures put off the board's own is sawn, however near it is drawn.
        """
        if self.part.boundary.distance(LineString(placed).centroid) > self.step / 4:
            return False
        (ax, ay), (bx, by) = edge
        middle = Spot((ax + bx) / 2, (ay + by) / 2)
        return any(LineString(line.points).distance(middle) < _ON_RIM for line in self.reading.rim)
