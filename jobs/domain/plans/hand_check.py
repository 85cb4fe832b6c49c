"""What an installer works out on paper before believing a plan: the room over the board. Pure.

Worked on the longest and the widest extent of the floor, as on paper; corners, posts and doorways
are not in it. First and last row as the plan's rules say: a first row of full width where what is
left across is at least half a board, else what is left and one board shared equally.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from jobs.domain.lengths import core_length_words, core_size_words
from layout.values.outline import to_frame
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from layout.values.tolerances import TOUCHING_TOLERANCE


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
        return int((self.laid + TOUCHING_TOLERANCE) // self.board)

    @property
    def rest(self) -> float:
        """What is left of it after the whole boards."""
        return max(0.0, self.laid - self.whole * self.board)

    @property
    def begun(self) -> int:
        """How many boards it takes, the last one begun."""
        return self.whole + (1 if self.rest > TOUCHING_TOLERANCE else 0)


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
    if rows.rest <= TOUCHING_TOLERANCE:
        return rows.board, rows.board
    if rows.rest >= rows.board / 2 - TOUCHING_TOLERANCE or rows.whole == 0:
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
    extent, gap, laid, rest = (
        core_length_words(value, unit) for value in (over.extent, over.gap, over.laid, over.rest)
    )
    board = core_size_words(over.board, unit)
    left = f"and {rest}" if over.rest > TOUCHING_TOLERANCE else "and nothing left"
    return HandLine(
        label=label,
        working=f"{extent} less two gaps of {gap} is {laid}, over {board}",
        result=f"{over.whole} {what} {left}",
    )


def _ends(rows: Division, unit: str) -> HandLine:
    first, last = (core_length_words(width, unit) for width in first_and_last(rows))
    if rows.rest <= TOUCHING_TOLERANCE:
        why = "nothing is left across"
    elif rows.rest >= rows.board / 2 - TOUCHING_TOLERANCE:
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


_NOTHING = {"in": 1 / 16, "mm": 1.0}  # less than this can't be told on a tape


@dataclass(frozen=True, slots=True, kw_only=True)
class Drift:
    """What one piece allows: how much shorter and longer it may come out, in the plan's unit."""

    piece: str
    shorter: float
    longer: float


def drifts_of(plan: Plan) -> tuple[Drift, ...]:
    """Return what every piece that is measured on site allows, in the order of laying."""
    return tuple(
        Drift(piece=piece.id, shorter=cut.at - cut.limits[0], longer=cut.limits[1] - cut.at)
        for piece in plan.pieces
        for cut in piece.cuts
        if cut.limits is not None
    )


def drift_sentence(request: PlanRequest, plan: Plan) -> str:
    """Return how far the walls at the row ends may stand off, and which piece says so."""
    drifts = drifts_of(plan)
    wall_error = core_length_words(request.rules.wall_error, plan.unit)
    promise = (
        f"Planned for walls that stand off by up to {wall_error}."
        if request.rules.wall_error
        else ""
    )
    if not drifts:
        return promise or "No piece is measured on site: cut as drawn."
    near = min(drifts, key=lambda drift: drift.shorter)
    far = min(drifts, key=lambda drift: drift.longer)
    inward, outward = (
        core_length_words(max(0.0, value), plan.unit) for value in (near.shorter, far.longer)
    )
    if min(near.shorter, far.longer) < _NOTHING[plan.unit]:
        tight = near.piece if near.shorter <= far.longer else far.piece
        sentence = f"Piece {tight} allows the wall at its end nothing: measure there before row 1."
        return f"{sentence} {promise}".strip()
    sentence = (
        f"It holds while the wall a row ends at stands up to {inward} nearer (piece {near.piece}) "
        f"or {outward} farther (piece {far.piece}) than drawn."
    )
    return f"{sentence} {promise}".strip()
