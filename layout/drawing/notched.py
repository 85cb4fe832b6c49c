"""A notched plank drawn large, as SVG in millimeters of paper: only what stays has a figure.

     |<---- 22 1/4 from the left ---->|
     +--------------------------------+//+    hatched: cut off, and nothing else is
left |  stays                         |//|  right
     |                                +--+
     +-----------------------------------+    near edge below, the next row above
"""

from __future__ import annotations

from collections.abc import Sequence

from shapely.affinity import affine_transform
from shapely.geometry import LineString, Polygon, box
from shapely.geometry import Point as Spot
from shapely.geometry.base import BaseGeometry
from shapely.ops import polylabel

from layout.cutsheet.seen_piece import SeenPiece
from layout.cutsheet.stays import (
    StaysFigure,
    across_figures,
    along_figures,
    base_beyond,
    sawn_edge,
    small_notches,
)
from layout.drawing.lettering import lettering_width
from layout.drawing.strips.inter import inter_width
from layout.drawing.true_size import FINE, THICK, THIN, TrueSize
from layout.values.outline import Point, polygons_of
from layout.values.tolerances import LENGTH_TOLERANCE, TOUCHING_TOLERANCE
from layout.values.units import INCH, length_words

WIDE = 172.0  # millimeters: what Letter and A4 have beside their margins
_FIGURE, _SMALL = 4.94, 3.4  # 14 pt for a measure to cut, more than 9 pt for words
_STEP, _BESIDE = 6.6, 42.0  # a dimension line from the next; one across with its words
_TALLEST, _LARGEST = 56.0, 0.5  # millimeters of board; the scale at most
_AROUND, _WIDEST, _DETAIL = 9.0, 64.0, 52.0  # millimeters of a detail at true size
_INSET = 1.4  # millimeters of paper: a cut made on site lies so far within the end, to be seen
EndCut = tuple[str, str]  # which end of a plank, and what is said there
MOST_FIGURES = 6
"""More figures one way than that are traced from a template."""


def too_many(piece: SeenPiece) -> bool:
    """Whether a piece has more figures than can be read beside its drawing."""
    return max(len(along_figures(piece)), len(across_figures(piece))) > MOST_FIGURES


def draw_notched(piece: SeenPiece, numbers: Sequence[int] = (), end: EndCut | None = None) -> str:
    """Return a notched plank as SVG, its cuts by their ``numbers``, if any.

    ``end``: at which end it may have to be cut across on site, and what is said there.
    """
    return _Notched(piece, numbers, end if end and end[1] else None).drawn()


class _Notched:
    """The drawing of one plank in the making."""

    def __init__(self, piece: SeenPiece, numbers: Sequence[int], end: EndCut | None) -> None:
        self.piece, self.end, self.numbers = piece, end, numbers
        self.unit = piece.views[0].unit
        self.shown = _shown(piece)
        along, across = along_figures(piece), across_figures(piece)
        if too_many(piece):
            along, across = along[-1:], across[-1:]
        x0, y0, x1, y1 = self.shown.bounds
        middle = (piece.shape.bounds[1] + piece.shape.bounds[3]) / 2
        self.above = [one for one in along if one.on > middle]
        self.below = [one for one in along if one.on <= middle]
        center = (piece.shape.bounds[0] + piece.shape.bounds[2]) / 2
        self.left = [one for one in across if one.on < center]
        self.right = [one for one in across if one.on >= center]
        sides = 12.0 * 2 + _BESIDE * (len(self.left) + len(self.right))
        mm = INCH["mm"] / INCH[self.unit]
        room = max(WIDE - sides, 50.0)
        self.scale = min(room / (x1 - x0), _TALLEST / (y1 - y0), _LARGEST * mm)
        self.top = 3.0 + _STEP * len(self.above)
        tall = self.top + (y1 - y0) * self.scale + 4.0 + _STEP * (len(self.below) + bool(end))
        self.x0, self.y1 = x0, y1
        self.lead = 12.0 + _BESIDE * len(self.left)
        self.sheet = TrueSize(WIDE, tall, name="notched")

    def at(self, point: Point) -> Point:
        """Return a point of the board on the paper."""
        return self.lead + (point[0] - self.x0) * self.scale, self.top + (
            self.y1 - point[1]
        ) * self.scale

    def on_paper(self, shape: BaseGeometry) -> BaseGeometry:
        """Return a shape of the board on the paper."""
        s = self.scale
        return affine_transform(
            shape, [s, 0, 0, -s, self.lead - self.x0 * s, self.top + self.y1 * s]
        )

    def drawn(self) -> str:
        """Return the drawing."""
        piece, sheet = self.piece, self.sheet
        taken = piece.taken.intersection(self.shown)
        sheet.hatch(self.on_paper(taken.difference(piece.shape)), spacing=3.0)
        rim = self.on_paper(piece.taken.boundary.intersection(self.shown))
        sheet.lines(rim, name="board", weight=FINE, dash="3 2")
        sheet.lines(self.on_paper(piece.shape.boundary), name="piece", weight=THICK)
        for index, one in enumerate(self.above):
            self._along(one, self.top - 4.5 - _STEP * index, up=True)
        bottom = self.at((0, self.shown.bounds[1]))[1]
        for index, one in enumerate(self.below):
            self._along(one, bottom + 5 + _STEP * index, up=False)
        if self.end:
            self._end_cut(*self.end, bottom + 4 + _STEP * len(self.below))
        self._across()
        self._sides()
        self._numbers()
        words = " ".join(view.cut.text for view in piece.views)
        return sheet.svg(f"Piece {piece.id}", words)

    def _along(self, one: StaysFigure, y: float, *, up: bool) -> None:
        """Draw a figure along the board, over or under it."""
        start, end = self.at((one.start, one.on)), self.at((one.end, one.on))
        edge = self.at((0, self.shown.bounds[3 if up else 1]))[1]
        base = (start[0], edge)
        for x, from_y in ((base[0], base[1]), (end[0], end[1])):
            self.sheet.line(
                [(x, from_y), (x, y + (-1.2 if up else 1.2))], name="extension", weight=FINE
            )
        a, b = sorted((start[0], end[0]))
        self.sheet.dimension((a, y), (b, y))
        self._figure(one, (a, b), y)

    def _end_cut(self, side: str, words: str, y: float) -> None:
        """Draw where the plank is cut across on site if it must be, and say when."""
        left, _, right, far = self.piece.shape.bounds
        x = self.at((right, 0))[0] - _INSET if side == "right" else self.at((left, 0))[0] + _INSET
        top = self.at((0, far))[1] - 1.5
        self.sheet.line([(x, top), (x, y - 2)], name="end-cut", weight=THIN)
        wide = lettering_width(words, _SMALL)
        self.sheet.words(
            (min(max(x - wide / 2, 1.0), WIDE - wide - 1), y), words, size=_SMALL, name="end-words"
        )

    def _figure(self, one: StaysFigure, span: Point, y: float) -> None:
        """Write a figure and where it starts on its line, or beside that where it is too short."""
        text = length_words(one.length, self.unit, on_tape=True)
        base = f"from {one.base}"
        wide = _wide(text) + lettering_width(base, _SMALL)
        a, b = span
        x = (a + b - wide) / 2
        if wide > b - a - 4:
            outer = one.start > one.end  # it is measured from its right end
            x = b + 2 if outer else a - 2 - wide
            x = min(max(x, 1.0), WIDE - wide - 1) if not (0 <= x <= WIDE - wide) else x
        self.sheet.blank((x - 1, y - 3), (x + wide + 1, y + 3))
        self.sheet.words((x, y), text, size=_FIGURE, name="figure", bold=True)
        at = x + _wide(text)
        self.sheet.words((at, y), base, size=_SMALL, name="base")

    def _across(self) -> None:
        """Draw the figures across the board at its sides."""
        _, _, right, _ = self.shown.bounds
        for beside, figures, way in (
            (self.at((self.x0, 0))[0] - 8, self.left, -1),
            (self.at((right, 0))[0] + 8, self.right, 1),
        ):
            for index, one in enumerate(figures):
                x = beside + way * _BESIDE * index
                start, end = self.at((one.on, one.start)), self.at((one.on, one.end))
                for point in (start, end):
                    self.sheet.line(
                        [point, (x + way * 1.2, point[1])], name="extension", weight=FINE
                    )
                a, b = sorted((start[1], end[1]))
                self.sheet.dimension((x, a), (x, b))
                text = length_words(one.length, self.unit, on_tape=True)
                wide = _wide(text)
                at = x + 2 if way > 0 else x - 2 - wide - lettering_width("from near", _SMALL)
                self.sheet.words((at, (a + b) / 2), text, size=_FIGURE, name="figure", bold=True)
                self.sheet.words(
                    (at + wide, (a + b) / 2), f"from {one.base}", size=_SMALL, name="base"
                )

    def _sides(self) -> None:
        """Write which end is left and which right, and that the piece stays."""
        left, _, right, _ = self.shown.bounds
        for side, x, figures in (
            ("left", self.at((left, 0))[0] - 4, self.left),
            ("right", self.at((right, 0))[0] + 4, self.right),
        ):
            level = self._free_level(figures, lettering_width(side, _SMALL) / 2 + 0.8)
            self.sheet.words((x, level), side, size=_SMALL, turn=-90, anchor="middle", name="side")
        free = self.on_paper(self.piece.shape)
        for place in self._cut_places():
            free = free.difference(place.buffer(2.6))
        spot = free.representative_point()
        half = lettering_width("STAYS", 4.2) / 2
        words = box(spot.x - half, spot.y - 2.2, spot.x + half, spot.y + 2.2)
        if free.contains(words):
            self.sheet.words((spot.x, spot.y), "STAYS", size=4.2, anchor="middle", name="stays")

    def _free_level(self, figures: Sequence[StaysFigure], half: float) -> float:
        """Return how high a word stands at a side where no line of its figures crosses it."""
        _, near, _, far = self.shown.bounds
        lines = [self.at((0, place))[1] for one in figures for place in (one.start, one.end)]
        levels = [self.at((0, near + (far - near) * share))[1] for share in (0.5, 0.25, 0.75)]
        return max(levels, key=lambda y: min([half, *(abs(y - line) for line in lines)]))

    def _cut_places(self) -> list[Spot]:
        """Return where the cuts are numbered; none where there is one alone."""
        if not any(self.numbers):
            return []
        lines = [sawn_edge(self.piece, view) for view in self.piece.views]
        return [self.on_paper(_middle(line)) if not line.is_empty else Spot() for line in lines]

    def _numbers(self) -> None:
        """Number the cuts in the order in which they are made, where there are two or more."""
        for number, place in zip(self.numbers, self._cut_places(), strict=False):
            if not place.is_empty:
                self.sheet.disc((place.x, place.y), 2.3, str(number), size=3.3)


def _wide(figure: str) -> float:
    """Return how much room a figure in bold takes, with what parts it from the next word."""
    return inter_width(figure, _FIGURE, bold=True) + 1.8


def _shown(piece: SeenPiece) -> Polygon:
    """Return what is drawn of the board: the piece with some of what is cut off at its ends."""
    x0, y0, x1, y1 = piece.shape.bounds
    left, _, right, _ = piece.taken.bounds
    some = 0.12 * (x1 - x0)
    _, near, _, far = piece.taken.bounds
    reach = base_beyond(piece) or (x0, x1)
    low, high = min(max(left, x0 - some), reach[0]), max(min(right, x1 + some), reach[1])
    return box(low, min(near, y0), high, max(far, y1))


def _middle(line: BaseGeometry) -> Spot:
    """Return the middle of the longest straight part of a line."""
    parts = [part for part in getattr(line, "geoms", [line]) if isinstance(part, LineString)]
    edges = [
        LineString(pair)
        for part in parts
        for pair in zip(part.coords, list(part.coords)[1:], strict=False)
    ]
    longest = max(edges, key=lambda edge: edge.length, default=None)
    if longest is None:
        return line.representative_point()
    return longest.interpolate(0.5, normalized=True)


def draw_details(piece: SeenPiece) -> tuple[str, ...]:
    """Return every small notch of a piece at true size, to lay the plank's corner on."""
    return tuple(_detail(piece, notch) for notch in small_notches(piece))


def _detail(piece: SeenPiece, notch: Polygon) -> str:
    """Return one notch at true size with some of what stays round it."""
    mm = INCH["mm"] / INCH[piece.views[0].unit]
    x0, y0, x1, y1 = _window(piece, notch, mm)
    head = 7.0
    wide = max((x1 - x0) * mm + 2, 46.0)
    sheet = TrueSize(wide, (y1 - y0) * mm + head + 2, name="detail")
    shift = [mm, 0, 0, -mm, 1 - x0 * mm, head + y1 * mm]
    window = box(x0, y0, x1, y1)
    sheet.words((0.5, 3), f"{_place_of(piece, notch)}, true size", size=_SMALL, name="place")
    sheet.hatch(affine_transform(notch.intersection(window), shift), spacing=3.0)
    rim = affine_transform(notch.boundary.intersection(window), shift)
    sheet.lines(rim, name="board", weight=FINE, dash="3 2")
    edge = affine_transform(piece.shape.boundary.intersection(window), shift)
    sheet.lines(edge, name="cut", weight=THIN)
    stays = affine_transform(piece.shape.intersection(window), shift).buffer(-2.5)
    if not stays.is_empty:
        spot = polylabel(max(polygons_of(stays), key=lambda part: float(part.area)), 0.5)
        sheet.words((spot.x, spot.y), "stays", size=_SMALL, anchor="middle", name="stays")
    for axis, side in ((0, 0), (0, 2), (1, 1), (1, 3)):
        if (
            min(notch.bounds[side] - window.bounds[axis], 0)
            or (window.bounds[axis + 2] - notch.bounds[side]) < 0
        ):
            _draw_break(sheet, affine_transform(_side_of(window, side), shift))
    return sheet.svg(f"Piece {piece.id}, notch at true size", f"{_place_of(piece, notch)}.")


def _side_of(window: Polygon, side: int) -> LineString:
    """Return a side of a window by its place among its bounds."""
    x0, y0, x1, y1 = window.bounds
    ends = {
        0: ((x0, y0), (x0, y1)),
        1: ((x0, y0), (x1, y0)),
        2: ((x1, y0), (x1, y1)),
        3: ((x0, y1), (x1, y1)),
    }
    return LineString(ends[side])


def _draw_break(sheet: TrueSize, line: LineString) -> None:
    """Draw a zigzag where a notch goes on past what is shown."""
    (ax, ay), (bx, by) = line.coords[0], line.coords[-1]
    long = line.length
    ux, uy = (bx - ax) / long, (by - ay) / long
    count = max(int(long / 4), 2)
    points = [
        (
            ax + ux * long * k / count - uy * (0.9 if k % 2 else -0.9),
            ay + uy * long * k / count + ux * (0.9 if k % 2 else -0.9),
        )
        for k in range(count + 1)
    ]
    sheet.line(points, name="break", weight=FINE)


def _window(piece: SeenPiece, notch: Polygon, mm: float) -> tuple[float, float, float, float]:
    """Return what a detail shows: the notch and some round it, an end of a long one."""
    x0, y0, x1, y1 = notch.bounds
    around = _AROUND / mm
    left, near, right, far = piece.shape.bounds
    span = [x0 - around, y0 - around, x1 + around, y1 + around]
    span = [max(span[0], left), max(span[1], near), min(span[2], right), min(span[3], far)]
    for axis, most in ((0, _WIDEST / mm), (1, _DETAIL / mm)):
        if span[axis + 2] - span[axis] > most:
            at_low = abs(notch.bounds[axis] - (left, near)[axis]) < TOUCHING_TOLERANCE
            if at_low:  # it opens at the low end: its inner corner is the high one
                span[axis] = span[axis + 2] - most
            else:
                span[axis + 2] = span[axis] + most
    return span[0], span[1], span[2], span[3]


def _place_of(piece: SeenPiece, notch: Polygon) -> str:
    """Return where a notch lies on its piece: "far right"."""
    left, near, right, far = piece.shape.bounds
    x0, y0, x1, y1 = notch.bounds
    small = LENGTH_TOLERANCE[piece.views[0].unit]
    words = [
        word
        for word, there in (
            ("near", abs(y0 - near) <= small and abs(y1 - far) > small),
            ("far", abs(y1 - far) <= small and abs(y0 - near) > small),
            ("left", abs(x0 - left) <= small),
            ("right", abs(x1 - right) <= small),
        )
        if there
    ]
    return " ".join(words) or "inside"
