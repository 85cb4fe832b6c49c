"""What the saw leaves of planks: offcuts that wait for a piece, on stacks, or are left over.

A part put aside waits from the piece with which it is cut to the first piece cut from it. What is
then left of it for later pieces is a new offcut.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import count

from shapely.geometry import Polygon

from layout.saw.jigsaw import corners_of
from layout.saw.of_plan import SawnPart, in_laying_order, sawn_parts
from layout.values.laid_pieces import LaidPiece, laid_pieces
from layout.values.material import LayingRules
from layout.values.plan import Offcut, Plan
from layout.values.request import PlanRequest
from layout.values.tolerances import TOUCHING_TOLERANCE

_STACK = 10  # offcuts in one stack
_BEFORE = -1  # the turn of what was at hand before
_LETTERS = 26


@dataclass(frozen=True, eq=False, kw_only=True)
class _Left:
    """A part put aside: since which piece's turn it waits, and for which piece."""

    part: SawnPart
    shape: Polygon
    since: int
    user: str | None
    label: str | None = None

    @property
    def place(self) -> tuple[int, int, tuple[float, ...]]:
        """What leftovers are sorted by: as they appear."""
        return self.since, self.part.plank, self.shape.bounds


def with_offcuts(request: PlanRequest, plan: Plan) -> Plan:
    """Return a plan with the offcuts that its planks leave, and the most that wait at once."""
    pieces = laid_pieces(plan, request.laid)
    order = in_laying_order((piece for piece in pieces if not piece.before), plan.lay)
    turns = {piece.piece.id: turn for turn, piece in enumerate(order)}
    parts = sawn_parts(request, pieces, plan.lay)
    lefts = sorted(
        (left for part in parts for left in _lefts(part, request.rules, turns)),
        key=lambda left: left.place,
    )
    stacks = _stacks(lefts, order, turns)
    known = {offcut.id for offcut in request.on_hand.offcuts} if request.on_hand else set()
    fresh = (label for i in count(1) if (label := f"F{i}") not in known)
    offcuts = tuple(
        _offcut(left, left.label or next(fresh), stack)
        for left, stack in zip(lefts, stacks, strict=True)
    )
    totals = replace(plan.totals, rack_max=_most_waiting(lefts, order, turns))
    return replace(plan, offcuts=offcuts, totals=totals)


def is_usable(shape: Polygon, rules: LayingRules) -> bool:
    """Whether the rules allow what is left over as an end piece and a row."""
    left, low, right, high = shape.bounds
    length = max(rules.min_end_piece, TOUCHING_TOLERANCE) - TOUCHING_TOLERANCE
    width = max(rules.min_row_width, TOUCHING_TOLERANCE) - TOUCHING_TOLERANCE
    return bool(right - left >= length and high - low >= width)


def _lefts(part: SawnPart, rules: LayingRules, turns: Mapping[str, int]) -> Iterator[_Left]:
    """Yield what a plank or a leftover at hand leaves, cut by cut."""
    if part.order is None:
        return
    if part.label is not None:
        first = part.order.names[0]
        yield _Left(
            part=part, shape=part.order.in_hand, since=_BEFORE, user=first, label=part.label
        )
    for sawing in part.order.sawings:
        if sawing.away is not None and (sawing.aside or is_usable(sawing.away, rules)):
            user = sawing.aside[0] if sawing.aside else None
            yield _Left(part=part, shape=sawing.away, since=turns[sawing.piece], user=user)


def _offcut(left: _Left, label: str, stack: str | None) -> Offcut:
    """Return a leftover as the plan has it."""
    x0, y0, x1, y1 = left.shape.bounds
    corners = corners_of(left.shape)
    return Offcut(
        id=label,
        plank=left.part.plank,
        length=x1 - x0,
        width=y1 - y0,
        keeps=left.part.bench.keeps(corners),
        at=(x0 + 0.0, y0 + 0.0),
        outline=corners,
        used_by=left.user,
        stack=stack,
    )


def _stacks(
    lefts: Sequence[_Left], order: Sequence[LaidPiece], turns: Mapping[str, int]
) -> list[str | None]:
    """Return the stack on which each leftover waits, None where it doesn't past its row."""
    stacks: list[str | None] = []
    waiting: dict[str, list[int]] = defaultdict(list)
    for left in lefts:
        if left.user is None or _in_its_row(left, order, turns):
            stacks.append(None)
            continue
        for letter in letters():
            waiting[letter] = [end for end in waiting[letter] if end > left.since]
            if len(waiting[letter]) < _STACK:
                break
        waiting[letter].append(turns[left.user])
        stacks.append(letter)
    return stacks


def letters() -> Iterator[str]:
    """Yield A to Z, then AA, AB and so on."""
    for number in count():
        letter, rest = "", number + 1
        while rest:
            rest, at = divmod(rest - 1, _LETTERS)
            letter = chr(ord("A") + at) + letter
        yield letter


def _in_its_row(left: _Left, order: Sequence[LaidPiece], turns: Mapping[str, int]) -> bool:
    """Whether a leftover is used in the row in which it is cut."""
    if left.user is None or left.since == _BEFORE:
        return False
    return order[left.since].row == order[turns[left.user]].row


def _most_waiting(
    lefts: Iterable[_Left], order: Sequence[LaidPiece], turns: Mapping[str, int]
) -> int:
    """Return how many leftovers wait for a piece at once, at most."""
    changes: list[tuple[int, int]] = []
    for left in lefts:
        if left.user is not None and not _at_once(left, order, turns):
            changes += [(left.since, 1), (turns[left.user], -1)]
    waiting = most = 0
    for _, change in sorted(changes):
        waiting += change
        most = max(most, waiting)
    return most


def _at_once(left: _Left, order: Sequence[LaidPiece], turns: Mapping[str, int]) -> bool:
    """Whether a leftover is laid beside what it is cut from: a board that the floor divides."""
    if left.user is None or left.since == _BEFORE or turns[left.user] != left.since + 1:
        return False
    one, two = order[left.since], order[turns[left.user]]
    overlap = min(one.bounds[2], two.bounds[2]) - max(one.bounds[0], two.bounds[0])
    return one.row == two.row and overlap > left.part.bench.near
