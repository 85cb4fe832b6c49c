"""One row as a strip: ring and figure, the pieces to scale, the last piece's boxes.

over     14⅞                                  to the wall 25⅜   cut 25⅛
ring (4) +------+------------+--------+       [       ] less ¼ = [      ]
under    4-1 new leaves 33 to [C] 25-5         8 to 31; over: cut it, 23-1 new
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

from shapely.affinity import affine_transform
from shapely.geometry import LineString, box

from layout.cutsheet.strips.values import FloorStrips, StripPiece, StripRow
from layout.drawing.strips.boxes import (
    DOWN,
    FOOT,
    OVER,
    STRIP,
    WORDS,
    RowBoxes,
    RowColumns,
    box_heights,
)
from layout.drawing.strips.inter import wrapped
from layout.drawing.strips.labels import StripLabel, placed
from layout.drawing.strips.paper import (
    EDGE,
    FIGURE,
    FINE,
    LEAST,
    SAWN,
    WORD,
    StripPaper,
    Token,
    tokens_width,
)
from layout.drawing.strips.row_words import figures_over, figures_under, inside, sources_under
from layout.drawing.strips.tape import draw_tape, tape_height
from layout.values.outline import Point, Region
from layout.values.tolerances import LENGTH_TOLERANCE

RIPPED = 7.0  # millimeters: a strip of planks that are ripped, so that its hatching is seen
UNDER, REST = 4.7, 0.3  # heights of lines under a strip and between rows, in millimeters
_STUB = 1.6  # of what is cut off past the end of a row
_SLIGHT = 2.0  # millimeters: what is less tall or wide is hatched closer
_BLOT = 9.0  # millimeters: a notch drawn no longer than that has a fine line, no blot
_HALF_TALL = 1.6  # of the room that a name takes in a piece
_ARROW = 1.4  # of the ends of a run of planks


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
        self.strip = STRIP if columns.narrow or not _is_ripped(row) else RIPPED
        self.upward = self.strip / floor.width
        self._said = (*row.notes, *notes)

    @cached_property
    def notes(self) -> list[str]:
        """The notes in lines: beside the boxes where those reach further down, else under all."""
        return [line for note in self._said for line in wrapped(note, WORD, self._wide)]

    @property
    def _wide(self) -> float:
        """How wide notes may be."""
        right = self.columns.strip[1] if self._beside else self.columns.wall[1]
        return right - self.columns.strip[0]

    @property
    def _noted(self) -> float:
        """How tall notes come out, and what is taped first above them."""
        return len(self.notes) * WORDS + (tape_height(self._wide) if self.row.tape else 0.0)

    @cached_property
    def _beside(self) -> bool:
        """Whether the boxes of the row's end leave room for notes under the strip."""
        strip = self._below + _lines(self.sources) * WORDS
        return not self.columns.narrow and sum(box_heights(self.row.walls)) >= strip + WORDS

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
        names = [piece.id for piece in self.unnamed]
        return self._placed([*sources_under(self.row, self.spans, most - least, names)])

    @property
    def height(self) -> float:
        """How tall the row comes out."""
        least = OVER + self.strip + WORDS
        strip = self._below + _lines(self.sources) * WORDS
        walls = sum(box_heights(self.row.walls))
        if len(self.row.walls) == 1:  # its box stands beside the strip, under all that is over that
            walls += self._top - OVER
        if self.columns.narrow and walls:
            strip += WORDS + sum(box_heights(self.row.walls)) - least
            walls = strip
        if self._beside:
            return max(strip + self._noted, walls) + REST
        return max(strip, walls, least) + self._noted + REST

    @property
    def _below(self) -> float:
        """Where the words under the strip begin."""
        return self._top + self.strip + _lines(self.under) * UNDER

    @property
    def _top(self) -> float:
        return max(1, _lines(self.over)) * OVER

    def draw(self, paper: StripPaper, top: float) -> None:
        """Draw the row from a height of the paper on."""
        base = top + self._top
        self._draw_head(paper, base)
        self.draw_strip(paper, top)
        beneath = top + self._below + _lines(self.sources) * WORDS
        RowBoxes(self.row.walls, self.columns).draw(paper, top, base, beneath)
        end = top + self.height - REST
        for i, note in enumerate(reversed(self.notes)):
            paper.text((self.columns.strip[0], end - i * WORDS - 0.8), note)
        if self.row.tape:
            draw_tape(
                paper, self.row.tape, (self.columns.strip[0], end - self._noted + 0.6), self._wide
            )
        paper.line(
            [(self.columns.far - 1, end + REST / 2), (self.columns.wall[1], end + REST / 2)],
            name="row-end",
            weight=0.18,
        )

    def draw_strip(self, paper: StripPaper, top: float) -> None:
        """Draw the pieces alone with their figures and sources."""
        base = top + self._top
        for piece in self.row.pieces:
            self._draw_piece(paper, piece, base)
        self._draw_cut_ends(paper, base)
        self._draw_inside(paper, base)
        for label in self.over:
            paper.tokens((label.x, base - FOOT - label.line * OVER), label.tokens)
        y = base + self.strip
        for label in self.under:
            paper.tokens((label.x, y + label.line * UNDER + 0.76 * FIGURE + 0.3), label.tokens)
        y += _lines(self.under) * UNDER
        for label in self.sources:
            if self.unnamed:  # no leader through words
                foot = y + label.line * WORDS + DOWN
                paper.blank((label.x, foot - WORD * 0.75), (label.x + label.wide, foot + 0.4))
            paper.tokens((label.x, y + label.line * WORDS + DOWN), label.tokens)

    def _draw_head(self, paper: StripPaper, base: float) -> None:
        """Draw the row's number and its far edge from the start wall."""
        middle = base + self.strip / 2
        paper.row_ring((self.columns.ring, middle), str(self.row.row))
        paper.text((self.columns.far, middle + FIGURE * 0.36), self.row.far, size=FIGURE, bold=True)
        if self.mixed:
            words = f"from {self.row.begin}"
            paper.text((self.columns.far, middle + self.strip / 2 + LEAST), words, size=LEAST)

    def _draw_piece(self, paper: StripPaper, piece: StripPiece, base: float) -> None:
        """Draw one piece: what stays, what is cut off hatched, one's own cuts thick."""
        place = self._place(piece, base)
        gone: Region = affine_transform(piece.gone, place)
        x0, y0, x1, y1 = gone.bounds or (0.0, 0.0, 0.0, 0.0)
        slight = min(x1 - x0, y1 - y0) <= _SLIGHT
        paper.hatch(gone, spacing=0.75 if slight else 1.4, weight=EDGE if slight else FINE)
        paper.lines(self._on_paper(piece, base), name="piece", weight=EDGE)
        near = 2 * LENGTH_TOLERANCE[self.floor.unit]
        for cut in piece.cuts:
            edge = piece.shape.boundary.intersection(LineString(cut.path).buffer(near))
            for part in getattr(edge, "geoms", [edge]):
                if part.length > 2 * near:
                    drawn = affine_transform(part, place)
                    blot = cut.kind == "shaped" and drawn.length < _BLOT
                    paper.lines(drawn, name="cut", weight=EDGE if blot else SAWN)

    def _place(self, piece: StripPiece, base: float) -> list[float]:
        """Return how a place on a piece's board comes to lie on the paper."""
        x = self.columns.strip[0] + piece.begins * self.scale
        return [self.scale, 0, 0, -self.upward, x, base + self.strip]

    def _on_paper(self, piece: StripPiece, base: float) -> Region:
        """Return the shape of a piece on the paper."""
        shape: Region = affine_transform(piece.shape, self._place(piece, base))
        return shape

    def _room_inside(
        self, pieces: Sequence[StripPiece], tokens: Sequence[Token]
    ) -> tuple[Point, list[Token]] | None:
        """Return where words stand in a piece, or amid several; None without room."""
        low, high = self.spans[pieces[0].id][0], self.spans[pieces[-1].id][1]
        amid = sum(self.spans[pieces[len(pieces) // 2].id]) / 2  # clear of a joint
        shape = self._on_paper(pieces[0], 0.0)
        _, y0, _, y1 = shape.bounds
        shown = [*tokens]
        while shown:
            wide = tokens_width(shown)
            x, middle = amid - wide / 2, (y0 + y1) / 2
            room = box(x - 0.5, middle - _HALF_TALL, x + wide + 0.5, middle + _HALF_TALL)
            within = pieces[0].whole or shown[-1].form == "disc" or shape.covers(room)
            if within and min(amid - low, high - amid) >= wide / 2 + 0.5:
                return (x, middle + WORD * 0.36), shown
            shown.pop()
        return None

    @cached_property
    def unnamed(self) -> list[StripPiece]:
        """The cut pieces that have no room for their name."""
        return [
            pieces[0]
            for pieces, tokens in inside(self.row)
            if not (pieces[0].whole or pieces[0].down)
            and ((room := self._room_inside(pieces, tokens)) is None or room[1] != [*tokens])
        ]

    def _draw_inside(self, paper: StripPaper, base: float) -> None:
        """Write in the pieces, and lead from those without room to their names beneath."""
        for pieces, tokens in inside(self.row):
            room = self._room_inside(pieces, tokens)
            if room is not None:
                (x, y), shown = room
                if len(pieces) > 1:
                    self._draw_run(paper, pieces, (x, x + tokens_width(shown)), base)
                paper.tokens((x, base + y), shown)
        for piece in self.unnamed:
            label = next((one for one in self.sources if one.piece == piece.id), None)
            if label is not None:
                self._draw_leader(paper, piece, label, base)

    def _draw_run(
        self,
        paper: StripPaper,
        pieces: Sequence[StripPiece],
        words: tuple[float, float],
        base: float,
    ) -> None:
        """Draw from where to where pieces lie that their words count, over all their joints."""
        middle, (x0, x1) = base + self.strip / 2, words
        paper.blank((x0 - 0.6, middle - _HALF_TALL), (x1 + 0.6, middle + _HALF_TALL))
        low, high = self.spans[pieces[0].id][0] + 0.5, self.spans[pieces[-1].id][1] - 0.5
        for tip, foot, way in ((low, x0 - 1.0, 1), (high, x1 + 1.0, -1)):
            if abs(foot - tip) > _ARROW:
                paper.line([(foot, middle), (tip, middle)], name="run", weight=FINE)
                back = tip + way * _ARROW
                head = [(tip, middle), (back, middle - _ARROW / 2), (back, middle + _ARROW / 2)]
                paper.area(head, name="run-end")

    def _draw_leader(
        self, paper: StripPaper, piece: StripPiece, label: StripLabel, base: float
    ) -> None:
        """Draw a line from the middle of a piece to its name beneath."""
        shape = self._on_paper(piece, base)
        x, y = shape.representative_point().x, shape.representative_point().y
        foot = base + self.strip + _lines(self.under) * UNDER + label.line * WORDS + 0.7
        low, high = label.x + 0.8, label.x + label.wide - 0.8
        paper.line([(x, y), (min(max(x, low), high), foot)], name="leader", weight=FINE)
        paper.area([(x - 0.5, y), (x, y - 0.5), (x + 0.5, y), (x, y + 0.5)], name="leader-dot")

    def _draw_cut_ends(self, paper: StripPaper, base: float) -> None:
        """Hatch what is cut off past the two ends of the row."""
        first, last = self.row.pieces[0], self.row.pieces[-1]
        for piece, side, beyond in ((first, "left", -_STUB), (last, "right", _STUB)):
            if any(c.kind in ("end", "wall") and c.side == side for c in piece.cuts):
                x0, y0, x1, y1 = self._on_paper(piece, base).bounds
                x = x0 if side == "left" else x1
                paper.hatch(box(min(x, x + beyond), y0, max(x, x + beyond), y1), spacing=1.0)


def _lines(labels: Sequence[StripLabel]) -> int:
    return max((label.line + 1 for label in labels), default=0)


def _is_ripped(row: StripRow) -> bool:
    """Whether a figure over the strip says that planks are ripped."""
    return any(cut.kind == "rip" and cut.far for piece in row.pieces for cut in piece.cuts)
