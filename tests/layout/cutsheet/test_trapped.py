"""The cut sheet of trapped pieces and of rows that go both ways."""

from __future__ import annotations

from dataclasses import replace

import pytest

from layout.cutsheet.trapped import how_in
from layout.values.material import GoesIn
from tests.layout import three_rows
from tests.layout.cutsheet.test_rows_of_sheet import rows_of
from tests.layout.three_rows import plan, request


@pytest.mark.parametrize(
    ("way", "lock", "words"),
    [
        (
            GoesIn.ROW,
            "angle-angle",
            "join all of row 1 off its place first, then tilt it in as one",
        ),
        (GoesIn.SHAVE, "angle-drop", "shave the lip"),
        (GoesIn.SLIDE, "tap", "pull it home with a pull bar"),
        (GoesIn.SLIDE, "glue", "spread the glue"),
        (GoesIn.LOWER, "tap", "let it down flat"),
        (None, "angle-drop", "ask the maker"),
    ],
)
def test_a_trapped_piece_says_how_it_goes_in(way: GoesIn | None, lock: str, words: str) -> None:
    product = {"length": 48, "width": 7, "per_carton": 10, "lock": lock}
    first = replace(plan().pieces[0], trapped=True, goes_in=way)
    sheet = rows_of(request(product=product), three_rows.with_piece(plan(), first))[0].pieces[0]
    assert words in (sheet.how_in or "")


def test_a_row_tells_of_its_trapped_pieces_before_it_is_laid_whole_boards_too() -> None:
    pieces = [replace(p, trapped=p.row == 2, goes_in=GoesIn.SLIDE) for p in plan().pieces]
    rows = rows_of(request(), replace(plan(), pieces=tuple(pieces)))
    way = "lay it flat, slide it under and pull it home with a pull bar."
    line = f"2-1, 2-2, 2-3: try it dry while rows 1 and 2 are off the wall; else, {way}"
    assert [row.trapped for row in rows] == [(), (line,), ()]


def test_a_row_past_the_second_or_beside_a_control_row_is_not_tried_off_the_wall() -> None:
    pieces = [replace(p, trapped=p.row == 3, goes_in=GoesIn.SHAVE) for p in plan().pieces]
    third = rows_of(request(), replace(plan(), pieces=tuple(pieces)))[2]
    assert third.trapped[0].startswith("3-1, 3-2, 3-3: try it dry; else, if")
    both_ways = {"length": 48, "width": 7, "per_carton": 10, "backward": True}
    middle = request(product=both_ways, lay={"control_row": 2})
    second = replace(plan().pieces[3], trapped=True, goes_in=GoesIn.SHAVE)
    assert second.row == 2
    assert (how_in(middle, second) or "").startswith("try it dry; else, if")


def test_a_whole_board_that_is_trapped_says_how_it_goes_in() -> None:
    whole = replace(plan().pieces[4], trapped=True, goes_in=GoesIn.SHAVE)
    assert "shave the lip" in (how_in(request(), whole) or "")
    assert how_in(request(), plan().pieces[4]) is None


def test_rows_stand_in_the_order_of_laying_and_turn_with_the_person() -> None:
    product = {"length": 48, "width": 7, "per_carton": 10, "backward": True}
    plan_request = request(product=product, lay={"control_row": 2})
    order = sorted(plan().pieces, key=lambda piece: plan_request.lay.turn(piece.row))
    rows = rows_of(plan_request, replace(plan(), lay=plan_request.lay, pieces=tuple(order)))
    assert [(row.row, row.begin) for row in rows] == [(2, "left"), (3, "left"), (1, "right")]


def test_a_piece_laid_backward_is_measured_by_a_person_who_faces_the_start_wall() -> None:
    product = {"length": 48, "width": 7, "per_carton": 10, "backward": True}
    plan_request = request(product=product, lay={"control_row": 2})
    laid = replace(plan(), lay=plan_request.lay)
    forward, back = (
        next(row.pieces[0].steps[0].text for row in rows_of(one, two) if row.row == 1)
        for one, two in ((request(), plan()), (plan_request, laid))
    )
    assert "from the right end; the left part goes" in forward
    assert "from the left end; the right part goes" in back
