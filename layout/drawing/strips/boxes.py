"""The boxes at the end of a row: what the tape shows, what comes off it, what is cut, its limits.

to the wall 25 3/8   cut 25 1/8     to the wall 5 5/8              rip 5 3/8
[     ] less 1/4 = [     ]               left [    ] middle [    ] right [    ]
8 to 31; over: cut it, 23-1 new     less 1/4 = [    ]        [    ]       [    ]
2-6 notch to wall 29 5/8   stays 29 3/8
[     ] less 1/4 = [     ] from left end
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from layout.cutsheet.strips.values import WallPiece
from layout.drawing.strips.paper import (
    FIGURE,
    LEAST,
    WORD,
    WRITE,
    StripPaper,
    Token,
    tokens_width,
)

OVER, STRIP, WORDS = 4.7, 5.0, 3.8  # heights of lines, in millimeters
FOOT = 0.5  # of a figure over a strip
DOWN = 3.0  # to the base line of words under it
_BOX = 19.0
_NOTCH, _CLEAR = 12.8, 0.8  # a box of a notch, what stays free under it
_LEAD, _BELOW = 13.8, 0.8  # before the three boxes of a width; between its two lines


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


def box_heights(walls: Sequence[WallPiece]) -> list[float]:
    """Return how tall each box of a row's end comes out, with the words beneath it."""
    least, more = OVER + STRIP + WORDS, {"rip": STRIP + _BELOW}
    return [
        OVER + STRIP + _CLEAR
        if wall.part
        else least
        + WORDS * bool(wall.under)
        + more.get(wall.kind, 0.0)
        + _CLEAR * (wall is not walls[-1])
        for wall in walls
    ]


class RowBoxes:
    """The boxes of a row, in its columns."""

    def __init__(self, walls: Sequence[WallPiece], columns: RowColumns) -> None:
        self.walls, self.columns = walls, columns

    def draw(self, paper: StripPaper, top: float, base: float, beneath: float) -> None:
        """Draw the boxes, the first beside the strip where it has room.

        ``beneath``: where in a narrow column the words of the first one stand.
        """
        narrow = self.columns.narrow
        first = base if narrow or len(self.walls) == 1 else top + OVER
        for wall, tall in zip(self.walls, box_heights(self.walls), strict=True):
            limits = beneath if narrow and wall is self.walls[0] else first + STRIP
            self._draw_wall(paper, wall, first, limits)
            first = limits + tall - STRIP

    def _draw_wall(self, paper: StripPaper, wall: WallPiece, base: float, limits: float) -> None:
        """Draw the boxes of a last piece, and what it may come to."""
        left, right = self.columns.wall
        number = [Token(text=str(wall.n), form="disc")] if wall.n else []
        cut = [*number, Token(text=wall.kind), Token(text=wall.cut, size=FIGURE, bold=True)]
        paper.tokens((right - tokens_width(cut), base - FOOT), cut)
        paper.tokens((left, base - FOOT), _to_wall(wall, right - left - tokens_width(cut) - 1))
        less = Token(text=f"less {wall.gap} =")
        if wall.part:
            self._draw_notch(paper, wall, less, base)
            return
        if wall.kind == "rip":
            self._draw_width(paper, Token(text=less.text, size=LEAST), base)
            limits += STRIP + _BELOW
        else:
            paper.box(left, base, _BOX, STRIP, weight=WRITE)
            paper.box(right - _BOX, base, _BOX, STRIP, weight=WRITE)
            middle = (left + right - less.wide) / 2
            paper.tokens((middle, base + STRIP / 2 + WORD * 0.36), [less])
        self._draw_limits(paper, wall, limits)

    def _draw_notch(self, paper: StripPaper, wall: WallPiece, less: Token, base: float) -> None:
        """Draw the boxes of a notch, and from which end or edge it is marked."""
        x, foot = self.columns.wall[0], base + STRIP / 2 + WORD * 0.36
        paper.box(x, base, _NOTCH, STRIP, weight=WRITE)
        x += _NOTCH + 1.2
        paper.tokens((x, foot), [less])
        x += less.wide + 1.2
        paper.box(x, base, _NOTCH, STRIP, weight=WRITE)
        paper.text((x + _NOTCH + 1.2, foot), wall.part, size=LEAST)

    def _draw_width(self, paper: StripPaper, less: Token, base: float) -> None:
        """Draw the boxes of a last row's width: what is taped at three places, what is ripped."""
        left, right = self.columns.wall
        places = ("left", "mid" if self.columns.narrow else "middle", "right")
        words = [Token(text=place, size=LEAST) for place in places]
        lead = max(_LEAD, less.wide + 1.0)
        room = right - left - lead - sum(word.wide + 2.0 for word in words[1:])
        x, foot = left + lead, base + STRIP / 2 + WORD * 0.36
        below = base + STRIP + _BELOW
        paper.tokens((left, foot + STRIP + _BELOW), [less])
        for word in words:
            x += 0.0 if word is words[0] else word.wide + 2.0
            paper.tokens((x - word.wide - 0.8, foot), [word])
            for top in (base, below):
                paper.box(x, top, room / 3, STRIP, weight=WRITE)
            x += room / 3

    def _draw_limits(self, paper: StripPaper, wall: WallPiece, top: float) -> None:
        """Write what a last piece may come to under its boxes, as large as there is room for."""
        left, right = self.columns.wall
        start = self.columns.strip[0] if self.columns.narrow else left
        foot = top + DOWN + _CLEAR / 2
        words = f"{wall.limits}; over: {wall.over}"
        short = words.replace("row up, cut", "row up,").replace(" new to ", " new ")
        sizes = ((words, WORD), (words, LEAST), (short, LEAST))
        for said, size in sizes[1:] if self.columns.narrow else sizes:
            tokens = [Token(text=wall.id, bold=True, size=size), Token(text=said, size=size)]
            if tokens_width(tokens) <= right - start:
                break
        paper.tokens((start, foot), tokens)
        if wall.under:
            paper.text((start, foot + WORDS), wall.under, size=LEAST)


def _to_wall(wall: WallPiece, most: float) -> list[Token]:
    """Return what the tape shows to the wall, in as many words as there is room for."""
    figure = Token(text=wall.to_wall, size=FIGURE, bold=True)
    begin = f"{wall.begin} " if wall.begin else ""
    name = [Token(text=wall.id, bold=True)] if wall.part else []
    begin = f"notch, {begin}" if wall.part else begin
    long = [*name, Token(text=f"{begin}to the {wall.stop}"), figure]
    short = [*name, Token(text=f"{begin.removeprefix('notch, ')}to {wall.stop}"), figure]
    return long if tokens_width(long) <= most else short
