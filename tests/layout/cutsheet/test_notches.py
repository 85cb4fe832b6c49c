"""A notch at each corner of a board, laid from both sides: eight boards worked out by hand.

The room is 48 1/2 x 21 1/2 in less a corner of 6 x 2, the gap 1/4: three rows of one board of
48 x 7 each. What the corner takes of its board is 6 along and 2 across, so 42 and 5 stay.

    laid from the low side, facing up the sheet     laid from the high side, facing down it

      high left +------+ high right                  +------+ near left: the person's left hand
    row 3: far  |      |                       row 1 |      |            is on the right of the
    row 2       |      |                       row 2 |      |            sheet, near is high
    row 1: near |      |                       row 3 |      | far
       low left +------+ low right                   +------+
"""

from __future__ import annotations

import pytest

from layout.cutsheet.rows import PieceSheet, RowsOfSheet
from layout.cutsheet.sheet import cut_sheet
from layout.planner.plan_floor import plan_floor
from layout.values.request import PlanRequest, read_request
from tests.rooms import request

W, H, ALONG, ACROSS = 48.5, 21.5, 6.0, 2.0
ROOMS: dict[str, list[list[float]]] = {
    "low left": [[ALONG, 0], [W, 0], [W, H], [0, H], [0, ACROSS], [ALONG, ACROSS]],
    "low right": [[0, 0], [W - ALONG, 0], [W - ALONG, ACROSS], [W, ACROSS], [W, H], [0, H]],
    "high right": [[0, 0], [W, 0], [W, H - 2], [W - ALONG, H - 2], [W - ALONG, H], [0, H]],
    "high left": [[0, 0], [W, 0], [W, H], [ALONG, H], [ALONG, H - 2], [0, H - 2]],
}

# (corner of the room, start) -> row, end and edge to measure from, what goes. Worked by hand: in
# the plan the corner lies left or right, low or high; from the low side that is left or right,
# near or far of the person in row 1 or 3; from the high side all of it turns round. The figures
# start at the end and edge across.
BY_HAND: dict[tuple[str, str], tuple[int, str, str, str]] = {
    ("low left", "low"): (1, "right end", "far edge", "near left"),
    ("low right", "low"): (1, "left end", "far edge", "near right"),
    ("high right", "low"): (3, "left end", "near edge", "far right"),
    ("high left", "low"): (3, "right end", "near edge", "far left"),
    ("low left", "high"): (3, "left end", "near edge", "far right"),
    ("low right", "high"): (3, "right end", "near edge", "far left"),
    ("high right", "high"): (1, "right end", "far edge", "near left"),
    ("high left", "high"): (1, "left end", "far edge", "near right"),
}


def words(end: str, edge: str, corner: str) -> str:
    return (
        f'Notch: mark 42" from the {end} and 5" from the {edge}, square to each other; '
        f"the {corner} corner goes: waste."
    )


def sheet_of(corner: str, **lay: str) -> tuple[int, PieceSheet]:
    """Return the row of the one cut piece of a room, and its sheet."""
    plan_request = read_request(request(ROOMS[corner], lay=lay, effort_iterations=5))
    return only_cut(plan_request)


def only_cut(plan_request: PlanRequest) -> tuple[int, PieceSheet]:
    plan = plan_floor(plan_request)
    rows = RowsOfSheet(plan_request, plan, cut_sheet(plan_request, plan)).rows()
    ((row, piece),) = ((row.row, piece) for row in rows for piece in row.pieces)
    return row, piece


@pytest.mark.parametrize("first_end", ["left", "right"])
@pytest.mark.parametrize(("corner", "start"), BY_HAND)
def test_a_notch_reads_as_worked_by_hand(corner: str, start: str, first_end: str) -> None:
    # The end that rows begin from and the side of the tongue turn no left and right.
    row, piece = sheet_of(corner, start=start, first_end=first_end)
    by_hand, end, edge, gone = BY_HAND[corner, start]
    assert (row, [step.text for step in piece.steps]) == (by_hand, [words(end, edge, gone)])


@pytest.mark.parametrize("tongue", ["low", "high"])
def test_the_side_of_the_tongue_turns_no_words(tongue: str) -> None:
    _, piece = sheet_of("low left", start="low", tongue=tongue)
    assert piece.steps[0].text == words("right end", "far edge", "near left")


def test_a_notch_in_a_turned_room_reads_the_same() -> None:
    # The room turned a quarter counter-clockwise, planks running up the sheet: (x, y) -> (-y, x).
    turned = [[-y, x] for x, y in ROOMS["low left"]]
    rules = {"direction_deg": 90}
    plan_request = read_request(request(turned, rules=rules, effort_iterations=5))
    _, piece = only_cut(plan_request)
    assert piece.steps[0].text == words("right end", "far edge", "near left")
