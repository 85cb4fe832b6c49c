"""The line under row 1: what is taped across the floor first, and what the last row is by that.

Across 46: left [    ] middle [    ] right [    ]  less 40 5/8 = row 7, 5 3/8: [    ] [    ] [    ]
"""

from __future__ import annotations

from layout.cutsheet.strips.values import TapeAcross
from layout.drawing.strips.paper import LEAST, STACK, WORD, StripPaper, Token, tokens_width

TALL = 6.2  # of one line of boxes, in millimeters
_BOX, _APART = 5.0, 1.2
_ONE_LINE = 190.0  # millimeters: less wide, it takes two lines
_PLACES = ("left", "mid", "right")


def tape_height(wide: float) -> float:
    """Return how tall the boxes come out in so many millimeters."""
    return TALL if wide >= _ONE_LINE else 2 * TALL


def draw_tape(paper: StripPaper, tape: TapeAcross, place: tuple[float, float], wide: float) -> None:
    """Draw the boxes from a place on, in so many millimeters."""
    first = [Token(text="Tape first: across"), Token(text=tape.plan, bold=True)]
    words = (Token(text=f"less {tape.less} = row {tape.row},"), Token(text=tape.stays, bold=True))
    end = Token(text=f"{tape.limits}, else slide", size=LEAST)
    x, top = place
    if wide >= _ONE_LINE:
        fixed = tokens_width(first) + tokens_width(words) + end.wide + 8 * _APART
        room = (wide - fixed - _places_width()) / 6
        x = _boxes(paper, first, (x, top), room, named=True)
        x = _boxes(paper, words, (x + _APART, top), room, named=False)
        paper.tokens((x, top + _BOX / 2 + WORD * 0.36), [end])
        return
    room = (wide - tokens_width(first) - _places_width() - 4 * _APART) / 3
    _boxes(paper, first, (x, top), room, named=True)
    room = (wide - tokens_width(words) - end.wide - 6 * _APART) / 3
    x = _boxes(paper, words, (x, top + TALL), room, named=False)
    paper.tokens((x, top + TALL + _BOX / 2 + WORD * 0.36), [end])


def _places_width() -> float:
    return sum(Token(text=place, size=LEAST).wide + _APART for place in _PLACES)


def _boxes(
    paper: StripPaper,
    words: tuple[Token, ...] | list[Token],
    place: tuple[float, float],
    room: float,
    *,
    named: bool,
) -> float:
    """Draw words and three boxes behind them; return where the next thing begins."""
    x, top = place
    foot = top + _BOX / 2 + WORD * 0.36
    paper.tokens((x, foot), words)
    x += tokens_width(words) + _APART
    for name in _PLACES:
        if named:
            paper.text((x, foot), name, size=LEAST)
            x += Token(text=name, size=LEAST).wide + _APART / 2
        paper.box(x, top, room, _BOX, weight=STACK)
        x += room + _APART / 2 if named else room + _APART
    return x
