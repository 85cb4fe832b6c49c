"""A row taken up and begun shorter: first and last keep their least length, joints keep apart."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pytest
from shapely.geometry import box

from layout.cutsheet.strips.shift import FirstCut, RowShifts
from layout.values.laid_pieces import LaidPiece
from layout.values.plan import Piece
from layout.values.request import read_request
from tests.rooms import request

BEDROOM: list[list[float]] = [[0, 0], [184.5, 0], [184.5, 224], [0, 224]]


def laid(row: int, *longs: float, begin: float = 0.25) -> list[LaidPiece]:
    """A row of pieces so long, from left to right."""
    y, at, pieces = 7.0 * (row - 1), begin, []
    for place, long in enumerate(longs, start=1):
        corners = ((at, y), (at + long, y), (at + long, y + 7), (at, y + 7))
        piece = Piece(
            id=f"{row}-{place}",
            row=row,
            place=place,
            plank=place,
            size=(48.0, 7.0),
            outline=corners,
            origin=(at, y),
        )
        shape = box(at, y, at + long, y + 7)
        pieces.append(LaidPiece(piece=piece, shape=shape, x0=at, y0=y, before=False))
        at += long
    return pieces


def shifts(*rows: Sequence[LaidPiece], right: bool = True, **changes: Any) -> RowShifts:
    """The shifts of the first of some rows."""
    wanted = read_request(request(BEDROOM, **changes))
    pieces = [piece for row in rows for piece in row]
    last = rows[0][-1] if right else rows[0][0]
    return RowShifts(wanted, last, pieces, 0.0, right=right, near=0.01)


# Rows 23 to 25 of a bedroom 184 1/2 in long: joints at 16 1/8, 32 and 40 past the first end, and
# every 48 in from there.
ROW_24 = laid(24, 32, 48, 48, 48, 8)
ROW_23 = laid(23, 16.125, 48, 48, 48, 23.875)
ROW_25 = laid(25, 40, 48, 48, 48)


def test_a_last_piece_too_short_takes_what_the_joints_leave() -> None:
    # 32 less 16 1/8 leave 15 7/8 between joints: 7 7/8 may go, 7 3/4 in quarters. The end that was
    # taped at 7 5/8 is then 15 3/8 long.
    cut = shifts(ROW_24, ROW_23, ROW_25).short()
    assert cut == FirstCut(id="24-1", long=24.25, shift=7.75)
    assert 7.625 + cut.shift == 15.375


def test_a_whole_plank_that_does_not_reach_leaves_its_row_shorter_by_a_least_piece() -> None:
    # 8 in at least, so that a new piece of 8 ends it: 40 becomes 32 or less, and as row 26 has a
    # joint at 20, 28 at least. Midway is 30; its last plank of 48 ends 10 short of where it did.
    row_26 = laid(26, 20, 48, 48, 48, 20)
    assert shifts(ROW_25, row_26).long() == FirstCut(id="25-1", long=30, shift=10)


def test_a_first_piece_keeps_its_least_length() -> None:
    # 16 1/8 less 8: 8 1/8, so 8 in go where nothing lies beside, and an 8 1/8 is left.
    assert shifts(ROW_23).long() == FirstCut(id="23-1", long=8.125, shift=8)
    assert shifts(laid(3, 15.75, 48, 48, 48)).long() is None


def test_a_row_that_ends_at_the_left_is_begun_shorter_at_its_right_end() -> None:
    # The bedroom in a mirror: row 24 is 8, 48, 48, 48, 32 from the left.
    mirrored = [laid(24, 8, 48, 48, 48, 32), laid(23, 23.875, 48, 48, 48, 16.125)]
    cut = shifts(*mirrored, laid(25, 48, 48, 48, 40), right=False).short()
    assert cut == FirstCut(id="24-5", long=24.25, shift=7.75)


def test_no_joint_moves_to_where_none_may_lie() -> None:
    # A strip from 24 1/4 to 25 1/4 off the wall: the first joint comes to 25 1/2, not to 24 1/2.
    strip = [[24.25, 150], [25.25, 150], [25.25, 180], [24.25, 180]]
    cut = shifts(ROW_24, ROW_23, ROW_25, zone={"no_joints": [strip]}).short()
    assert cut == FirstCut(id="24-1", long=25.25, shift=6.75)


@pytest.mark.parametrize("rows", [[laid(4, 40)], [laid(4, 8, 48, 48, 48, 32), ROW_23]])
def test_a_row_of_one_piece_or_with_a_first_that_is_short_has_none(
    rows: list[list[LaidPiece]],
) -> None:
    assert shifts(*rows).short() is None


def test_a_row_with_steps_laid_down_keeps_its_pattern() -> None:
    # Where joints go by halves, no row is moved off them.
    free = shifts(laid(24, 32, 48, 48, 48, 8)).short()
    assert free is not None
    assert shifts(laid(24, 32, 48, 48, 48, 8), rules={"stagger": "half"}).short() is None
