"""Every cut piece of whole rooms made again from its words, and every plank taken once."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from shapely.affinity import rotate, translate
from shapely.geometry import Polygon

from layout.cutsheet.sheet import cut_sheet
from layout.planner.plan_floor import plan_floor
from layout.values.outline import to_frame
from layout.values.request import read_request
from tests.layout.cutsheet.test_sheet import sheet_of
from tests.layout.sheet_reader import follow
from tests.layout.three_rows import plan, request
from tests.rooms import ROOMS, Request

REAL = {name: ROOMS[name] for name in ("bay", "crooked", "column", "diagonal", "register", "ell")}


@pytest.mark.parametrize("lay", [{}, {"start": "high", "first_end": "right"}], ids=["low", "high"])
@pytest.mark.parametrize("room", REAL.values(), ids=REAL)
def test_every_cut_piece_of_a_room_can_be_made_from_its_words(
    room: Callable[[], Request], lay: dict[str, str]
) -> None:
    plan_request = read_request({**room(), "lay": lay, "effort_iterations": 10})
    laid = plan_floor(plan_request)
    pieces = {piece.id: piece for piece in laid.pieces}
    near = 1 / 16 if laid.unit == "in" else 25.4 / 16
    for sheet in (piece for row in cut_sheet(plan_request, laid) for piece in row.pieces):
        made = follow(sheet.take, [step.text for step in sheet.steps])
        outline = Polygon(to_frame(pieces[sheet.id].outline, laid.direction_deg))
        wanted = rotate(outline, 180 if lay else 0, origin=(0, 0))
        off = (wanted.bounds[0] - made.bounds[0], wanted.bounds[1] - made.bounds[1])
        assert translate(made, *off).exterior.hausdorff_distance(wanted.exterior) <= near, sheet


@pytest.mark.parametrize("room", REAL.values(), ids=REAL)
def test_every_plank_is_taken_new_once(room: Callable[[], Request]) -> None:
    plan_request = read_request({**room(), "effort_iterations": 10})
    laid = plan_floor(plan_request)
    rows = cut_sheet(plan_request, laid)
    new = sum("new board" in piece.take for row in rows for piece in row.pieces)
    assert sum(row.whole for row in rows) + new == laid.totals.planks


def test_what_another_piece_left_of_a_plank_is_no_new_board() -> None:
    # The starter of row 3 without its offcut: plank 3 is still begun by the ender of row 1.
    rows = cut_sheet(request(), plan(offcuts=()))
    assert rows[0].pieces[1].leaves == ("the rest for 3-1",)
    starter = rows[2].pieces[0]
    assert starter.take == 'Take the rest of plank 3, measured as the whole board: 48" by 7".'
    assert starter.steps[0].text == 'Cut square 19⅞" from the right end; the left part goes.'


def test_a_slant_that_ends_at_a_corner_takes_the_corner_across_only() -> None:
    # Marks are told to 1/16: a hundredth of an inch from the corner is the corner.
    shape = Polygon([(0.01, 0), (48, 0), (48, 7), (5, 7)])
    (step,) = sheet_of(shape).steps
    assert step.text == (
        'Mark 48" from the right end on the near edge and 43" from the right end on the far edge; '
        "cut along the line; the far left corner goes."
    )
