"""A price drawn as boards between two walls, with a dimension line below.

    |[ Materials ][   Labor      ][Ovh][ Margin ]|
    /------------/---------------/----/---------/
       1,215.17       1,902.24    374   1,163.83
    /-- direct cost --------------/-contribution-/

Only places are reckoned here, in whole units of the drawing; the page draws them. Below cost the
right wall stands at the price, inside the boards, and what is lost lies beyond it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal
from itertools import accumulate

from estimates.domain.price_groups.summary import PriceShare, PriceSummary
from jobs.domain.checks import ONE, ZERO

SIDE = 4
"""Free room left and right of the walls."""

LETTER = 7
"""How wide a letter of the drawing is at most."""

WORDS_AT = 106
LINE = 38
"""Where the first figure below the boards stands, and how far below it the next line is."""

_TONES = {"Overhead": "overhead", "Margin": "margin"}
"""How a board is filled: what keeps the doors open, what stays; all else is plain."""


@dataclass(frozen=True, kw_only=True, slots=True)
class BoardShown:
    """One board: where it lies, what it is, and on which line below its figure stands.

    `level` counts lines from the dimension line down. `fits`: its word has room on the board.
    """

    label: str
    amount: Decimal
    share: Decimal | None
    x: int
    width: int
    level: int
    text_x: int
    fits: bool
    tone: str

    @property
    def middle(self) -> int:
        """Where the middle of the board lies."""
        return self.x + self.width // 2

    @property
    def end(self) -> int:
        """Where the board ends."""
        return self.x + self.width

    @property
    def text_y(self) -> int:
        """How far down its figure stands."""
        return WORDS_AT + self.level * LINE

    @property
    def more_y(self) -> int:
        """How far down the words below its figure stand."""
        return self.text_y + 16


@dataclass(frozen=True, kw_only=True, slots=True)
class PriceBar:
    """The drawing of a price: its boards, its walls, and where direct cost ends."""

    width: int
    boards: tuple[BoardShown, ...]
    left: int
    wall: int
    direct_end: int
    levels: int

    @property
    def right(self) -> int:
        """Where the last board ends."""
        return self.boards[-1].end if self.boards else self.left

    @property
    def second_y(self) -> int:
        """How far down the second dimension line is: direct cost against contribution."""
        return WORDS_AT + self.levels * LINE

    @property
    def second_words_y(self) -> int:
        """How far down the words of the second dimension line stand."""
        return self.second_y + 20

    @property
    def height(self) -> int:
        """How high the drawing is."""
        return self.second_words_y + 10


def price_bar(summary: PriceSummary, width: int) -> PriceBar | None:
    """Return the drawing of a price for a page of this width; None where nothing is charged."""
    parts = [part for part in summary.shares if part.amount > 0]
    if not parts or summary.price <= 0:
        return None
    whole = max(sum((part.amount for part in parts), ZERO), summary.price)
    scale = (Decimal(width) - 2 * SIDE) / whole
    ends = [_place(amount, scale) for amount in accumulate(part.amount for part in parts)]
    loose = [
        _board(part, x, end, width)
        for part, x, end in zip(parts, [SIDE, *ends], ends, strict=False)
    ]
    levels = _levels([(board.text_x, _room_for(board)) for board in loose])
    return PriceBar(
        width=width,
        boards=tuple(
            replace(board, level=level) for board, level in zip(loose, levels, strict=True)
        ),
        left=SIDE,
        wall=_place(summary.price, scale),
        direct_end=_place(summary.direct_cost, scale),
        levels=max(levels) + 1,
    )


def _board(part: PriceShare, x: int, end: int, width: int) -> BoardShown:
    board = BoardShown(
        label=part.label,
        amount=part.amount,
        share=part.share,
        x=x,
        width=end - x,
        level=0,
        text_x=(x + end) // 2,
        fits=len(part.label) * LETTER + 8 <= end - x,
        tone=_TONES.get(part.label, "plain"),
    )
    half = _room_for(board) // 2
    return replace(board, text_x=min(max(board.middle, half), width - half))


def _levels(words: Sequence[tuple[int, int]]) -> list[int]:
    """Return, for words by middle and width, the first line on which each has room."""
    free_from: list[int] = []
    levels = []
    for middle, room in words:
        start = middle - room // 2
        level = next((n for n, free in enumerate(free_from) if free <= start), len(free_from))
        free_from[level : level + 1] = [start + room]
        levels.append(level)
    return levels


def _place(amount: Decimal, scale: Decimal) -> int:
    return SIDE + int((amount * scale).quantize(ONE, ROUND_HALF_UP))


def _room_for(board: BoardShown) -> int:
    """How much room the words below a board take: the longer of its name and its figure."""
    return max(len(board.label), len(f"${board.amount:,.2f}")) * LETTER + 8
