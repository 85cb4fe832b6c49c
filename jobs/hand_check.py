"""What an installer works out on paper before believing a plan: the room over the board. Pure.

Worked on the longest and the widest extent of the floor, as on paper; corners, posts and doorways
are not in it. First and last row as the plan's rules say: a first row of full width where what is
left across is at least half a board, else what is left and one board shared equally.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from jobs.words import core_length_words
from layout.outline import to_frame
from layout.plan import Plan
from layout.request import PlanRequest

_HAIR = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Division:
    """One extent of the floor over one side of the board, lengths in the request's unit."""

    extent: float
    gap: float
    board: float

    @property
    def laid(self) -> float:
        """The extent less a gap at both ends."""
        return self.extent - 2 * self.gap

    @property
    def whole(self) -> int:
        """How many whole boards it holds."""
        return int((self.laid + _HAIR) // self.board)

    @property
    def rest(self) -> float:
        """What is left of it after the whole boards."""
        return max(0.0, self.laid - self.whole * self.board)

    @property
    def begun(self) -> int:
        """How many boards it takes, the last one begun."""
        return self.whole + (1 if self.rest > _HAIR else 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class HandLine:
    """One line of the check: what is divided, the sum in words, and what it gives."""

    label: str
    working: str
    result: str


def along(request: PlanRequest, plan: Plan) -> Division:
    """Return the longest extent of the floor along its rows over the board's length."""
    xs, _ = zip(*to_frame(request.zone.outline, plan.direction_deg), strict=True)
    gap = request.rules.expansion_gap
    return Division(extent=max(xs) - min(xs), gap=gap, board=request.product.board.length)


def across(request: PlanRequest, plan: Plan) -> Division:
    """Return the widest extent of the floor across its rows over the board's width."""
    _, ys = zip(*to_frame(request.zone.outline, plan.direction_deg), strict=True)
    gap = request.rules.expansion_gap
    return Division(extent=max(ys) - min(ys), gap=gap, board=request.product.board.width)


def first_and_last(rows: Division) -> tuple[float, float]:
    """Return the widths of the first and the last row by hand."""
    if rows.rest <= _HAIR:
        return rows.board, rows.board
    if rows.rest >= rows.board / 2 - _HAIR or rows.whole == 0:
        return (rows.board if rows.whole else rows.rest), rows.rest
    shared = (rows.rest + rows.board) / 2
    return shared, shared


def hand_check(request: PlanRequest, plan: Plan) -> tuple[HandLine, ...]:
    """Return the check line by line: along, across, first and last row, planks by the area.

    Where widths are mixed in one carton the sums across make no sense by hand: they are left out.
    """
    unit = plan.unit
    long, wide = along(request, plan), across(request, plan)
    lines = [_divided("Along the rows", long, "boards", unit)]
    if len(request.product.boards) == 1:
        lines += [_divided("Across the rows", wide, "rows", unit), _ends(wide, unit)]
        lines.append(_counted(request, plan, long, wide))
    return tuple(lines)


def _divided(label: str, over: Division, what: str, unit: str) -> HandLine:
    extent, gap, laid, board, rest = (
        core_length_words(value, unit)
        for value in (over.extent, over.gap, over.laid, over.board, over.rest)
    )
    left = f"and {rest}" if over.rest > _HAIR else "and nothing left"
    return HandLine(
        label=label,
        working=f"{extent} less two gaps of {gap} is {laid}, over {board}",
        result=f"{over.whole} {what} {left}",
    )


def _ends(rows: Division, unit: str) -> HandLine:
    first, last = (core_length_words(width, unit) for width in first_and_last(rows))
    if rows.rest <= _HAIR:
        why = "nothing is left across"
    elif rows.rest >= rows.board / 2 - _HAIR:
        why = "what is left is at least half a board"
    else:
        why = "what is left is less than half a board, so it and one board are shared"
    return HandLine(label="First and last row", working=why, result=f"{first} and {last}")


def _counted(request: PlanRequest, plan: Plan, long: Division, wide: Division) -> HandLine:
    board = request.product.board
    by_area = math.ceil(plan.totals.floor_area / (board.length * board.width))
    rows = wide.begun
    return HandLine(
        label="Planks by hand",
        working=(
            f"{rows} rows of {long.begun}, nothing cut off used again; the area alone over one "
            f"board is {by_area}"
        ),
        result=f"between {by_area} and {rows * long.begun}",
    )
