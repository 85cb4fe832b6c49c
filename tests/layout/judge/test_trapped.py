"""The judge on trapped marks and the order of laying: three rows by hand, broken one way each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pytest

from layout.judge.check import check_plan
from layout.values.advice import StartChoice
from layout.values.material import GoesIn, Side
from layout.values.plan import Piece, Plan
from layout.values.request import PlanRequest
from tests import rooms
from tests.layout import three_rows
from tests.layout.three_rows import with_piece

FAR, END = "2", "1"  # the edge along row 3, the edge where rows end


def request_of(
    kinds: dict[str, str], lock: str = "angle-angle", control_row: int | None = None
) -> PlanRequest:
    edges = {index: {"kind": kind} for index, kind in kinds.items()}
    outline = [[0, 0], [100.5, 0], [100.5, 21.5], [0, 21.5]]
    return three_rows.request(
        zone={"outline": outline, "edges": edges},
        product={**rooms.PLANK, "lock": lock, "backward": True},
        lay={"control_row": control_row},
    )


def plan(marks: dict[str, GoesIn], **changes: Any) -> Plan:
    """Return the three rows with the marks of the pieces named."""
    pieces = [
        replace(piece, trapped=piece.id in marks, goes_in=marks.get(piece.id))
        for piece in three_rows.plan().pieces
    ]
    return replace(three_rows.plan(), **{"pieces": tuple(pieces), **changes})


def faults(request: PlanRequest, judged: Plan) -> set[tuple[str, str]]:
    return {(fault.rule, fault.where) for fault in check_plan(request, judged)}


UNDER_TOE_KICK = dict.fromkeys(("3-1", "3-2", "3-3"), GoesIn.ROW)
AT_CASING = dict.fromkeys(("2-3", "3-3"), GoesIn.SHAVE)


def test_marks_by_hand_stand() -> None:
    assert faults(request_of({FAR: "toe kick"}), plan(UNDER_TOE_KICK)) == set()
    assert faults(request_of({END: "casing"}, "angle-drop"), plan(AT_CASING)) == set()


@pytest.mark.parametrize("missing", ["3-1", "3-2", "3-3"])
def test_a_trapped_piece_without_its_mark_is_caught(missing: str) -> None:
    marks = {name: way for name, way in UNDER_TOE_KICK.items() if name != missing}
    assert faults(request_of({FAR: "toe kick"}), plan(marks)) == {("trapped", f"piece {missing}")}


@pytest.mark.parametrize("free", ["1-3", "2-1", "2-2", "3-1"])
def test_a_mark_on_a_free_piece_is_caught(free: str) -> None:
    marks = {**AT_CASING, free: GoesIn.SHAVE}
    seen = faults(request_of({END: "casing"}, "angle-drop"), plan(marks))
    assert seen == {("trapped", f"piece {free}")}


def test_a_wrong_way_in_is_caught() -> None:
    marks = {**UNDER_TOE_KICK, "3-2": GoesIn.SLIDE}
    assert faults(request_of({FAR: "toe kick"}), plan(marks)) == {("trapped", "piece 3-2")}


def test_a_mark_that_does_not_say_how_it_goes_in_is_let_pass() -> None:
    silent = replace(plan(UNDER_TOE_KICK).pieces[7], goes_in=None)
    judged = with_piece(plan(UNDER_TOE_KICK), silent)
    assert faults(request_of({FAR: "toe kick"}), judged) == set()


def test_the_marks_of_another_lock_are_caught() -> None:
    seen = faults(request_of({END: "casing"}, "tap"), plan(AT_CASING))
    assert seen == {("trapped", "piece 2-3"), ("trapped", "piece 3-3")}


def test_a_piece_that_is_down_is_not_judged_again() -> None:
    request = request_of({FAR: "toe kick"})
    down = tuple(piece for piece in plan({}).pieces if piece.row > 1)
    seen = faults(replace(request, laid=down), plan({}))
    assert not any(rule == "trapped" for rule, _ in seen)


def in_rows(pieces: Sequence[Piece], rows: Sequence[int]) -> tuple[Piece, ...]:
    return tuple(piece for row in rows for piece in pieces if piece.row == row)


@pytest.mark.parametrize("rows", [(1, 3, 2), (3, 2, 1), (2, 1, 3)])
def test_rows_out_of_their_order_are_caught(rows: tuple[int, ...]) -> None:
    plain = three_rows.plan()
    seen = faults(request_of({}), replace(plain, pieces=in_rows(plain.pieces, rows)))
    assert "order" in {rule for rule, _ in seen}


def test_pieces_out_of_their_place_are_caught() -> None:
    first, second, *others = three_rows.plan().pieces
    swapped = replace(three_rows.plan(), pieces=(second, first, *others))
    assert faults(request_of({}), swapped) == {("order", "piece 1-1")}


def test_rows_from_the_control_row_on_and_back_stand() -> None:
    request = request_of({}, control_row=3)
    laid = replace(plan({}), lay=request.lay, pieces=in_rows(plan({}).pieces, (3, 2, 1)))
    # What waits on the rack is another count, laid from row 3 back to row 1.
    assert faults(request, laid) <= {("totals", "rack_max")}


def test_the_order_from_the_start_wall_is_wrong_with_a_control_row() -> None:
    request = request_of({}, control_row=2)
    assert ("order", "piece 2-1") in faults(request, plan({}, lay=request.lay))


def test_a_control_row_beyond_the_rows_is_caught() -> None:
    request = request_of({}, control_row=4)
    assert ("lay", "plan") in faults(request, plan({}, lay=request.lay))


def test_a_plan_with_another_control_row_is_caught() -> None:
    request = request_of({}, control_row=2)
    assert faults(request, plan({})) == {("lay", "plan")}


def test_marks_follow_the_order_of_laying() -> None:
    # Laid from row 3 back to row 1, the toe kick lies at the far side of the first row: free.
    request = request_of({FAR: "toe kick"}, control_row=3)
    back = in_rows(plan(UNDER_TOE_KICK).pieces, (3, 2, 1))
    seen = faults(request, replace(plan({}), lay=request.lay, pieces=back))
    assert {where for rule, where in seen if rule == "trapped"} == {
        "piece 3-1",
        "piece 3-2",
        "piece 3-3",
    }


def test_a_start_that_counts_other_marks_than_the_plan_has_is_caught() -> None:
    starts = (StartChoice(start=Side.LOW, trapped=2), StartChoice(start=Side.HIGH, trapped=0))
    judged = plan(UNDER_TOE_KICK, starts=starts)
    assert faults(request_of({FAR: "toe kick"}), judged) == {("starts", "plan")}
