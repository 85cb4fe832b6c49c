"""One row as a strip: ring and figure, the pieces to scale, the last piece's boxes.

over     14⅞                                  to the wall 25⅜   cut 25⅛
ring (4) +------+------------+--------+       [       ] less ¼ = [      ]
under    4-1 new leaves 33 to [C] 25-5         8 to 31; over: cut it, 23-1 new
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from shapely.affinity import affine_transform
from shapely.geometry import LineString, box

from layout.cutsheet.strips.values import FloorStrips, StripPiece, StripRow, WallPiece
from layout.drawing.strips.inter import wrapped
from layout.drawing.strips.labels import StripLabel, placed
from layout.drawing.strips.paper import (
    EDGE,
    FIGURE,
    LEAST,
    SAWN,
    WORD,
    WRITE,
    StripPaper,
    Token,
    tokens_width,
)
from layout.drawing.strips.row_words import figures_over, figures_under, inside, sources_under
from layout.values.outline import Region
from layout.values.tolerances import LENGTH_TOLERANCE

OVER, STRIP, UNDER, WORDS, REST = 4.4, 5.0, 4.7, 3.6, 0.3  # heights of lines, in millimeters
_BOX = 19.0
_FOOT = 0.7  # of a figure over a strip
_DOWN = 3.1  # to the base line of words under it
_HALF_TALL = 1.6  # of the room that a name takes in a piece


@dataclass(frozen=True, slots=True, kw_only=True)
class RowColumns:
    """Where a row's columns begin and end: ring, figure, strip, boxes of the last piece.

    ``narrow``: words under the strip run on under the boxes.
    """

    ring: float
    far: float
    strip: tuple[float, float]
    wall: tuple[float, float]
    narrow: bool = False


class RowDrawing:
    """A row to be drawn: laid out first, so that its height is known."""

    def __init__(
        self,
        floor: FloorStrips,
        row: StripRow,
        columns: RowColumns,
        *,
        scale: float,
        notes: Sequence[str] = (),
    ) -> None:
        self.mixed = len({one.begin for one in floor.rows}) > 1
        self.floor, self.row, self.columns, self.scale = floor, row, columns, scale
        self.upward = STRIP / floor.width
        left, right = columns.strip[0], columns.wall[1]
        self.notes = [
            line for note in (*row.notes, *notes) for line in wrapped(note, WORD, right - left)
        ]

    @cached_property
    def spans(self) -> dict[str, tuple[float, float]]:
        """From where to where every piece lies on the paper."""
        at = self.columns.strip[0]
        return {
            piece.id: (at + piece.span[0] * self.scale, at + piece.span[1] * self.scale)
            for piece in self.row.pieces
        }

    @cached_property
    def _cut_spans(self) -> dict[str, tuple[float, float]]:
        cut = {piece.id for piece in self.row.pieces if not piece.whole}
        return {name: span for name, span in self.spans.items() if name in cut}

    @property
    def _reach(self) -> tuple[float, float]:
        """From where to where words under the strip may stand."""
        columns = self.columns
        return columns.strip[0], columns.wall[1] if columns.narrow else columns.strip[1]

    def _placed(self, labels: Sequence[StripLabel], *, over: bool = False) -> list[StripLabel]:
        least, most = self._reach
        first = self.columns.strip[1] if over else most
        return placed(labels, least=least, most=(first, most), spans=self._cut_spans)

    @cached_property
    def over(self) -> list[StripLabel]:
        """The figures over the strip."""
        return self._placed([*figures_over(self.row, self.spans)], over=True)

    @cached_property
    def under(self) -> list[StripLabel]:
        """The figures of slants under the strip."""
        return self._placed([*figures_under(self.row, self.spans)])

    @cached_property
    def sources(self) -> list[StripLabel]:
        """Where pieces come from and go."""
        least, most = self._reach
        return self._placed([*sources_under(self.row, self.spans, most - least)])

    @property
    def height(self) -> float:
        """How tall the row comes out."""
        least = OVER + STRIP + WORDS
        strip = self._below + _lines(self.sources) * WORDS
        walls = len(self.row.walls) * least
        if self.columns.narrow and walls:
            strip += WORDS
            walls += strip - least
        return max(strip, walls, least) + len(self.notes) * WORDS + REST

    @property
    def _below(self) -> float:
        """Where the words under the strip begin."""
        return self._top + STRIP + _lines(self.under) * UNDER

    @property
    def _top(self) -> float:
        return max(1, _lines(self.over)) * OVER

    def draw(self, paper: StripPaper, top: float) -> None:
        """Draw the row from a height of the paper on."""
        base = top + self._top
        self._draw_head(paper, base)
        for piece in self.row.pieces:
            self._draw_piece(paper, piece, base)
        for pieces, tokens in inside(self.row):
            self._draw_inside(paper, pieces, tokens, base)
        for label in self.over:
            paper.tokens((label.x, base - _FOOT - label.line * OVER), label.tokens)
        y = base + STRIP
        for label in self.under:
            paper.tokens((label.x, y + label.line * UNDER + 0.76 * FIGURE + 0.3), label.tokens)
        y += _lines(self.under) * UNDER
        for label in self.sources:
            paper.tokens((label.x, y + label.line * WORDS + _DOWN), label.tokens)
        self._draw_walls(paper, top, base)
        end = top + self.height - REST
        for i, note in enumerate(reversed(self.notes)):
            paper.text((self.columns.strip[0], end - i * WORDS - 0.8), note)
        paper.line(
            [(self.columns.far - 1, end + REST / 2), (self.columns.wall[1], end + REST / 2)],
            name="row-end",
            weight=0.18,
        )

    def _draw_head(self, paper: StripPaper, base: float) -> None:
        """Draw the row's number and its far edge from the start wall."""
        middle = base + STRIP / 2
        paper.row_ring((self.columns.ring, middle), str(self.row.row))
        paper.text((self.columns.far, middle + FIGURE * 0.36), self.row.far, size=FIGURE, bold=True)
        if self.mixed:
            words = f"from {self.row.begin}"
            paper.text((self.columns.far, middle + STRIP / 2 + LEAST), words, size=LEAST)

    def _draw_piece(self, paper: StripPaper, piece: StripPiece, base: float) -> None:
        """Draw one piece: what stays, what is cut off hatched, one's own cuts thick."""
        place = self._place(piece, base)
        gone: Region = affine_transform(piece.gone, place)
        paper.hatch(gone, spacing=1.4)
        paper.lines(self._on_paper(piece, base), name="piece", weight=EDGE)
        near = 2 * LENGTH_TOLERANCE[self.floor.unit]
        for cut in piece.cuts:
            edge = piece.shape.boundary.intersection(LineString(cut.path).buffer(near))
            for part in getattr(edge, "geoms", [edge]):
                if part.length > 2 * near:
                    drawn = affine_transform(part, place)
                    paper.lines(drawn, name="cut", weight=SAWN)

    def _place(self, piece: StripPiece, base: float) -> list[float]:
        """Return how a place on a piece's board comes to lie on the paper."""
        x = self.columns.strip[0] + piece.begins * self.scale
        return [self.scale, 0, 0, -self.upward, x, base + STRIP]

    def _on_paper(self, piece: StripPiece, base: float) -> Region:
        """Return the shape of a piece on the paper."""
        shape: Region = affine_transform(piece.shape, self._place(piece, base))
        return shape

    def _draw_inside(
        self, paper: StripPaper, pieces: Sequence[StripPiece], tokens: Sequence[Token], base: float
    ) -> None:
        """Write in a piece, or in the first of several, where there is room."""
        low, high = self.spans[pieces[0].id]
        if pieces[0].whole and len(pieces) > 1 and high - low < tokens_width(tokens) + 1:
            high = self.spans[pieces[-1].id][1]
        shape = self._on_paper(pieces[0], base)
        _, y0, _, y1 = shape.bounds
        shown = [*tokens]
        while shown:
            wide = tokens_width(shown)
            x, middle = (low + high - wide) / 2, (y0 + y1) / 2
            room = box(x - 0.5, middle - _HALF_TALL, x + wide + 0.5, middle + _HALF_TALL)
            within = pieces[0].whole or shown[-1].form == "disc" or shape.covers(room)
            if within and high - low >= wide + 1:
                paper.tokens((x, middle + WORD * 0.36), shown)
                return
            shown.pop()

    def _draw_walls(self, paper: StripPaper, top: float, base: float) -> None:
        """Draw the boxes of last pieces, the first beside the strip where it has room."""
        narrow, least = self.columns.narrow, OVER + STRIP + WORDS
        for i, wall in enumerate(self.row.walls):
            first = base if narrow or len(self.row.walls) == 1 else top + OVER
            limits = first + STRIP
            if narrow:
                limits = top + self._below + _lines(self.sources) * WORDS
            self._draw_wall(paper, wall, first + i * least, limits + i * least)

    def _draw_wall(self, paper: StripPaper, wall: WallPiece, base: float, limits: float) -> None:
        """Draw the boxes of a last piece, and what it may come to."""
        left, right = self.columns.wall
        number = [Token(text=str(wall.n), form="disc")] if wall.n else []
        cut = [*number, Token(text="cut"), Token(text=wall.cut, size=FIGURE, bold=True)]
        paper.tokens((right - tokens_width(cut), base - _FOOT), cut)
        paper.tokens((left, base - _FOOT), _to_wall(wall, right - left - tokens_width(cut) - 1))
        paper.box(left, base, _BOX, STRIP, weight=WRITE)
        paper.box(right - _BOX, base, _BOX, STRIP, weight=WRITE)
        less = Token(text=f"less {wall.gap} =")
        middle = (left + right - less.wide) / 2
        paper.tokens((middle, base + STRIP / 2 + WORD * 0.36), [less])
        words = f"{wall.limits}; over: {wall.over}"
        tokens = [Token(text=wall.id, bold=True, size=LEAST), Token(text=words, size=LEAST)]
        start = self.columns.strip[0] if self.columns.narrow else left
        paper.tokens((start, limits + _DOWN), tokens)


def _to_wall(wall: WallPiece, most: float) -> list[Token]:
    """Return what the tape shows to the wall, in as many words as there is room for."""
    figure = Token(text=wall.to_wall, size=FIGURE, bold=True)
    long = [Token(text=f"to the {wall.stop}"), figure]
    return long if tokens_width(long) <= most else [Token(text=f"to {wall.stop}"), figure]


def _lines(labels: Sequence[StripLabel]) -> int:
    return max((label.line + 1 for label in labels), default=0)
