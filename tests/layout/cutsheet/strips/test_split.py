"""Where a last piece is split: both parts keep the least length, joints keep apart."""

from __future__ import annotations

from shapely.geometry import box

from layout.cutsheet.strips.split import split_length
from layout.values.laid_pieces import LaidPiece
from layout.values.plan import Piece
from layout.values.request import read_request
from tests.rooms import request


def laid(row: int, x0: float, x1: float) -> LaidPiece:
    y = 7.0 * (row - 1)
    outline = ((x0, y), (x1, y), (x1, y + 7), (x0, y + 7))
    piece = Piece(
        id=f"{row}-1",
        row=row,
        place=1,
        plank=1,
        size=(48.0, 7.0),
        outline=outline,
        origin=(x0, y),
    )
    return LaidPiece(piece=piece, shape=box(x0, y, x1, y + 7), x0=x0, y0=y, before=False)


ROOM = read_request(request([[0, 0], [300, 0], [300, 90], [0, 90]]))


def test_the_longest_part_leaves_the_least_piece_of_a_plank() -> None:
    # The rows beside have joints at 100 and 200 alone: 40 of 48 from 120 on ends at 160.
    last, beside = laid(2, 120, 160), laid(1, 100, 200)
    assert split_length(ROOM, last, [last, beside], 0.0, right=True) == 40


def test_a_joint_beside_moves_it_back_by_whole_inches() -> None:
    # A joint at 157: the new one may not lie within 8 in of it, so at 149 or before.
    last, beside = laid(2, 120, 160), laid(3, 157, 205)
    assert split_length(ROOM, last, [last, beside], 0.0, right=True) == 29


def test_a_row_that_ends_at_the_left_is_split_from_its_right_end() -> None:
    last, beside = laid(2, 120, 160), laid(1, 123, 171)
    # From 160 leftward 40 in lie at 120, 3 in from the joint at 123; 28 in at 132 are 9 off it.
    assert split_length(ROOM, last, [last, beside], 0.0, right=False) == 29


def test_where_no_joint_fits_there_is_none() -> None:
    last = laid(2, 120, 160)
    beside = [laid(1, at, at + 12.0) for at in range(110, 190, 12)]
    assert split_length(ROOM, last, [last, *beside], 0.0, right=True) is None
