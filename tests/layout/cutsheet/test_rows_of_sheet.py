"""The cut sheet row by row, worked out by hand on three rows, and the rack beside it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from layout.cutsheet.rows import PieceSheet, RackEntry, RowSheet, RowsOfSheet
from layout.cutsheet.sheet import cut_sheet
from layout.planner.plan_floor import plan_floor
from layout.values.outline import Ring
from layout.values.plan import Offcut, Piece, Plan
from layout.values.request import PlanRequest, read_request
from tests.layout.three_rows import plan, request
from tests.rooms import PLANK, ROOMS
from tests.rooms import request as form_of


def sheet_of(plan_request: PlanRequest, laid: Plan) -> RowsOfSheet:
    return RowsOfSheet(plan_request, laid, cut_sheet(plan_request, laid))


def rows_of(plan_request: PlanRequest, laid: Plan) -> tuple[RowSheet, ...]:
    return sheet_of(plan_request, laid).rows()


def only(shape: Ring, *, start: str = "low", offcuts: tuple[Offcut, ...] = ()) -> PieceSheet:
    """Return the sheet of one piece of a plank of 48 x 7, alone on its floor."""
    piece = Piece(
        id="1-1", row=1, place=1, plank=1, size=(48, 7), outline=shape, origin=(0.25, 0.25)
    )
    moved = replace(piece, outline=tuple((x + 0.25, y + 0.25) for x, y in shape))
    rows = rows_of(request(lay={"start": start}), plan(pieces=(moved,), offcuts=offcuts))
    return rows[0].pieces[0]


def box_of(x0: float, y0: float, x1: float, y1: float) -> Ring:
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def test_a_row_of_plain_cuts_is_one_line() -> None:
    row = rows_of(request(), plan())[0]
    assert (row.row, row.begin, row.whole) == (1, "left", 1)
    assert row.line == '24" of plank 1, 1 whole, 28" of plank 3'


def test_a_starter_is_cut_from_a_new_board() -> None:
    first = rows_of(request(), plan())[0].pieces[0]
    assert first.take == "Take a new board, plank 1."
    assert [(step.n, step.tool) for step in first.steps] == [(1, "saw")]


def test_an_offcut_that_fits_is_taken_from_its_stack_and_needs_no_cut() -> None:
    laid = plan(offcuts=(replace(plan().offcuts[0], stack="A"),))
    third = rows_of(request(), laid)[2].pieces[0]
    assert (third.offcut, third.stack) == ("F1", "A")
    assert third.take == 'Take F1 from stack A: 19⅞" by 7".'
    assert third.steps == ()


def test_a_cut_names_the_stack_and_the_label_of_what_it_leaves() -> None:
    laid = plan(offcuts=(replace(plan().offcuts[0], stack="A"),))
    ender = rows_of(request(), laid)[0].pieces[1]
    assert ender.id == "1-3"
    assert ender.steps[0].text.endswith(" goes: stack A for 3-1. Label F1.")


def test_the_rack_says_where_an_offcut_comes_from_and_goes() -> None:
    laid = plan(offcuts=(replace(plan().offcuts[0], stack="A"),))
    assert sheet_of(request(), laid).rack() == (
        RackEntry(label="F1", size='19⅞" by 7"', stack="A", plank=3, cut_with="1-3", used_by="3-1"),
    )


def test_an_offcut_that_is_no_box_is_told_at_most() -> None:
    slanted = ((0.0, 0.0), (20.0, 0.0), (24.0, 7.0), (0.0, 7.0))
    offcut = Offcut(
        id="F9", plank=1, length=24, width=7, keeps=("left end",), outline=slanted, used_by="1-1"
    )
    piece = only(box_of(0, 0, 10, 7), offcuts=(offcut,))
    assert piece.take == 'Take offcut F9: at most 24" by 7".'


@pytest.mark.parametrize(
    ("start", "text"),
    [
        ("low", 'Of the whole board it is 4" to 42" from its left end.'),
        ("high", 'Of the whole board it is 6" to 44" from its left end.'),
    ],
)
def test_a_piece_that_keeps_neither_end_says_where_on_the_board_it_lies(
    start: str, text: str
) -> None:
    assert only(box_of(4, 0, 42, 7), start=start).lies == text


def test_a_piece_that_keeps_no_end_is_never_told_by_its_length() -> None:
    steps = [step.text for step in only(box_of(4, 0, 42, 7)).steps]
    assert len(steps) == 2
    assert all("from the left end" in step or "from the right end" in step for step in steps)
    assert not any("both ends" in step for step in steps)


def test_pieces_down_already_are_left_out() -> None:
    laid = plan().pieces[:3]
    rows = rows_of(replace(request(), laid=laid), plan())
    assert [row.row for row in rows] == [2, 3]


def test_from_the_high_side_left_and_right_change_hands() -> None:
    rows = rows_of(request(lay={"start": "high"}), replace(plan(), lay=request().lay))
    assert {row.begin for row in rows} == {"right"}
    text = rows[0].pieces[0].steps[0].text
    assert text.startswith('Cut square 24" from the left end; the right part goes: ')


def test_without_a_kerf_boards_are_scored() -> None:
    rows = rows_of(request(rules={"saw_kerf": 0}), plan())
    assert {step.tool for row in rows for piece in row.pieces for step in piece.steps} == {"score"}


def test_a_whole_board_has_no_sheet_and_a_strange_one_is_none() -> None:
    sheet = sheet_of(request(), plan())
    assert sheet.piece("1-2") is None
    with pytest.raises(KeyError):
        sheet.piece("9-9")


REAL = ("bay", "crooked", "column", "diagonal", "register", "ell")


@pytest.mark.parametrize("name", REAL)
def test_every_plank_is_taken_new_once_and_every_cut_is_told_once(name: str) -> None:
    plan_request = read_request({**ROOMS[name](), "effort_iterations": 5})
    laid = plan_floor(plan_request)
    sheet = cut_sheet(plan_request, laid)
    rows = RowsOfSheet(plan_request, laid, sheet).rows()
    pieces = [piece for row in rows for piece in row.pieces]
    new = sum("new board" in piece.take for piece in pieces)
    assert sum(row.whole for row in rows) + new == laid.totals.planks
    assert sum(len(piece.steps) for piece in pieces) == sum(len(p.cuts) for p in sheet.planks)


@pytest.mark.parametrize("name", REAL)
def test_every_kept_part_has_a_label_on_the_rack(name: str) -> None:
    plan_request = read_request({**ROOMS[name](), "effort_iterations": 5})
    laid = plan_floor(plan_request)
    sheet = cut_sheet(plan_request, laid)
    kept = sum(not cut.then.waste for plank in sheet.planks for cut in plank.cuts)
    rack = RowsOfSheet(plan_request, laid, sheet).rack()
    assert sum(bool(entry.cut_with) for entry in rack) == kept == len(rack)


def test_a_row_and_its_boards_name_their_shades() -> None:
    outline = [[0, 0], [100, 0], [100, 40], [0, 40]]
    product = PLANK | {"variants": {"A": 6, "B": 4}}
    shaded = read_request(form_of(outline, product=product, effort_iterations=20))
    laid = plan_floor(shaded)
    rows = RowsOfSheet(shaded, laid, cut_sheet(shaded, laid)).rows()
    first = laid.pieces[0]
    assert all("(A)" in row.line or "(B)" in row.line for row in rows)
    assert rows[0].pieces[0].take == f"Take a new board ({first.variant}), plank {first.plank}."
