"""The wall walk: wall after wall to an outline, its misclosure, and which wall is likely wrong.

    (3)<---2---(2)
     |          ^        A walk begins at (0, 0) along +x. Each leg ends with a turn: to the left
     3          1        (counter-clockwise, positive) or to the right. Walked in either direction
     v          |        round the room; a room walked to the left has its floor on the left.
    (0)---0--->(1)

No tape is true: the walk ends a little beside its start. That *misclosure* is spread over the legs
in proportion to their lengths, the compass rule (Bowditch), as in J. Mahun, Traverse Computations,
chapter H.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate

from layout.values.errors import Described, InputError
from layout.values.fields import check_number
from layout.values.outline import Point, Ring, direction_vector

LEFT, RIGHT = 90.0, -90.0
_TURNS = {"left": LEFT, "right": RIGHT}
_PLACES = 9  # coordinates to a billionth: beyond any tape, short of rounding noise


@dataclass(frozen=True, slots=True, kw_only=True)
class Leg:
    """One wall of a walk and the turn at its end: "left", "right", or degrees, left positive.

    Raises InputError for a length of nothing and for a turn back on the wall itself.
    """

    length: float
    turn: float | str = LEFT

    def __post_init__(self) -> None:
        check_number(self.length, "length", above=0)
        if isinstance(self.turn, str):
            if self.turn not in _TURNS:
                raise InputError("turn", self.turn, '"left", "right" or degrees')
        elif not -180 < self.turn < 180:
            raise InputError("turn", self.turn, "more than -180, less than 180 degrees")

    @property
    def turn_deg(self) -> float:
        """The turn in degrees, left positive."""
        return _TURNS[self.turn] if isinstance(self.turn, str) else float(self.turn)


@dataclass(frozen=True, slots=True, kw_only=True)
class Walk:
    """A walk as drawn: the closed outline, how far the end lay from the start, the way walked."""

    outline: Ring
    misclosure: Point
    walked: float

    @property
    def gap(self) -> float:
        """The distance from the end of the walk to its start."""
        return math.hypot(*self.misclosure)

    @property
    def one_in(self) -> float:
        """The precision: one part in so many; infinite where the walk closes."""
        return self.walked / self.gap if self.gap else math.inf


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspect:
    """One leg that alone may explain a misclosure.

    ``what`` is "length" or "turn"; ``instead`` the length, or the turn in degrees, that would
    leave only ``gap`` of the misclosure.
    """

    leg: int
    what: str
    instead: float
    gap: float


def walk_outline(legs: Sequence[Leg], *, close: bool = False, sure_last: bool = False) -> Walk:
    """Return the outline of a walk, its misclosure spread by the compass rule.

    With ``close`` one straight wall more leads back to the start and nothing is spread; with
    ``sure_last`` the last leg stays as it is and the others are led to where it begins. Whether
    the outline crosses itself is told when a Zone is made of it, or by ``outline.crossing``.
    Raises InputError for fewer walls than make a room.
    """
    least = 2 if close else 3
    if len(legs) < least:
        raise InputError("walls", Described(f"{len(legs)} walls"), f"{least} or more")
    steps = steps_of(legs)
    miss = (math.fsum(x for x, _ in steps), math.fsum(y for _, y in steps))
    walked = math.fsum(leg.length for leg in legs)
    if close:
        return Walk(outline=_corners(steps), misclosure=(0.0, 0.0), walked=walked)
    moved = len(legs) - sure_last
    kept = steps[-1] if sure_last else (0.0, 0.0)
    lengths = [leg.length for leg in legs[:moved]]
    spread = compass_rule(steps[:moved], lengths, end=(-kept[0], -kept[1]))
    return Walk(outline=_corners(spread)[: len(legs)], misclosure=miss, walked=walked)


def steps_of(legs: Sequence[Leg]) -> tuple[Point, ...]:
    """Return what each leg adds to x and y, the first one along +x."""
    headings = accumulate((leg.turn_deg for leg in legs[:-1]), initial=0.0)
    steps = []
    for leg, heading in zip(legs, headings, strict=True):
        cos, sin = direction_vector(heading)
        steps.append((leg.length * cos, leg.length * sin))
    return tuple(steps)


def compass_rule(
    steps: Sequence[Point], lengths: Sequence[float], end: Point = (0.0, 0.0)
) -> tuple[Point, ...]:
    """Return steps that sum up to ``end``: each corrected in proportion to its leg's length."""
    over_x = math.fsum(x for x, _ in steps) - end[0]
    over_y = math.fsum(y for _, y in steps) - end[1]
    total = math.fsum(lengths)
    return tuple(
        (x - over_x * length / total, y - over_y * length / total)
        for (x, y), length in zip(steps, lengths, strict=True)
    )


def suspects(legs: Sequence[Leg], *, within: float) -> tuple[Suspect, ...]:
    """Return the legs that alone explain a misclosure larger than ``within``, likeliest first.

    A wall read wrong leaves a gap along its own direction; a turn taken to the wrong side leaves
    none once it is turned back. Fewest changes to what was typed count first: a turn, then the
    smallest change of a length.
    """
    walk = walk_outline(legs)
    if walk.gap <= within:
        return ()
    likely = [*_wrong_turns(legs, within), *_wrong_lengths(legs, walk.misclosure, within)]
    return tuple(sorted(likely, key=lambda s: (s.what != "turn", _change(legs, s), s.leg)))


def _wrong_turns(legs: Sequence[Leg], within: float) -> Iterable[Suspect]:
    """Yield the turns that close the walk when taken to the other side."""
    for i, leg in enumerate(legs[:-1]):
        other = replace(leg, turn=-leg.turn_deg)
        gap = _gap([*legs[:i], other, *legs[i + 1 :]])
        if leg.turn_deg and gap <= within:
            yield Suspect(leg=i, what="turn", instead=other.turn_deg, gap=gap)


def _wrong_lengths(legs: Sequence[Leg], miss: Point, within: float) -> Iterable[Suspect]:
    """Yield the legs that close the walk with another length."""
    for i, (leg, (x, y)) in enumerate(zip(legs, steps_of(legs), strict=True)):
        along = (miss[0] * x + miss[1] * y) / leg.length
        instead = round(leg.length - along, _PLACES)
        if instead <= 0:
            continue
        gap = _gap([*legs[:i], replace(leg, length=instead), *legs[i + 1 :]])
        if gap <= within:
            yield Suspect(leg=i, what="length", instead=instead, gap=gap)


def _gap(legs: Sequence[Leg]) -> float:
    """Return how far the end of a walk lies from its start."""
    steps = steps_of(legs)
    return math.hypot(math.fsum(x for x, _ in steps), math.fsum(y for _, y in steps))


def _change(legs: Sequence[Leg], suspect: Suspect) -> float:
    """Return by what part of its length a leg would change."""
    if suspect.what == "turn":
        return 0.0
    length = legs[suspect.leg].length
    return abs(suspect.instead - length) / length


def _corners(steps: Iterable[Point]) -> Ring:
    """Return the corners of a walk from (0, 0), the end of the last leg included."""
    points = accumulate(steps, lambda a, b: (a[0] + b[0], a[1] + b[1]), initial=(0.0, 0.0))
    return tuple((round(x, _PLACES) + 0.0, round(y, _PLACES) + 0.0) for x, y in points)
