"""A row begun shorter or longer: its ends keep their least length, its joints keep apart."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from shapely.geometry import Polygon, box

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


def test_a_first_piece_that_can_be_no_shorter_is_a_new_one_an_inch_longer() -> None:
    # The wall stands up to an inch further out: joints move on by it, and the last is cut again.
    row_3 = laid(3, 15.75, 48, 48, 48)
    assert shifts(row_3).long() == FirstCut(id="3-1", long=16.75, shift=-1)
    # Beside a joint at 23 3/4 an inch more is too near: it is passed, 8 beyond is 31 3/4.
    close = laid(2, 23.75, 48, 48, 48)
    assert shifts(row_3, close).long() == FirstCut(id="3-1", long=31.75, shift=-16)


def test_a_notch_stays_at_its_wall_where_its_row_is_begun_longer() -> None:
    row_6 = laid(6, 15.75, 48, 48, 48)
    x0, y0, x1, y1 = row_6[-1].bounds
    notched = [*row_6[:-1], replace(row_6[-1], shape=Polygon(notch(x0, y0, x1, y1)))]
    assert shifts(notched).long() == FirstCut(id="6-1", long=16.75, shift=-1)


def notch(x0: float, y0: float, x1: float, y1: float) -> list[tuple[float, float]]:
    """A rectangle without its last two inches by three at the upper right."""
    return [(x0, y0), (x1, y0), (x1, y1 - 3), (x1 - 2, y1 - 3), (x1 - 2, y1), (x0, y1)]


def test_where_joints_can_be_nowhere_it_is_told_how_far_apart_they_come() -> None:
    # Joints beside at every 14 in: in the middle between two of them a joint is 7 from both.
    beside = laid(5, *([14.0] * 13))
    tight = shifts(laid(4, 21, 48, 48, 48), beside, laid(3, 21, 48, 48, 48))
    assert tight.long() is None
    apart = tight.long_apart()
    assert apart is not None
    assert apart < 8
    assert shifts(laid(4, 40)).long_apart() is None


def test_a_last_piece_too_short_is_left_out_where_no_first_piece_can_be_shorter() -> None:
    # 8 and 48s, and 8 at the end: the first one is a new one of 16, and 4-4 ends the row.
    row = laid(4, 8, 48, 48, 48, 8)
    assert shifts(row).short() == FirstCut(id="4-1", long=16, shift=-8, drops="4-5")


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


def test_a_row_of_one_piece_has_none() -> None:
    assert shifts(laid(4, 40)).short() is None
    assert shifts(laid(4, 40)).long() is None
    assert shifts(laid(4, 40)).short_apart() is None


def test_a_row_with_steps_laid_down_keeps_its_pattern() -> None:
    # Where joints go by halves, no row is moved off them.
    free = shifts(laid(24, 32, 48, 48, 48, 8)).short()
    assert free is not None
    assert shifts(laid(24, 32, 48, 48, 48, 8), rules={"stagger": "half"}).short() is None
