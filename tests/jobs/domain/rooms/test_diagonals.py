"""Diagonals across a walked room: corners checked, corners turned, readings refused.

(4)-------(3)
 |       / |     corners as they are numbered; the diagonal from 1 to 3 tells the angle at 2
 |     /   |
(1)-------(2)
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.domain.rooms.outline import Drawn, draw_room
from jobs.domain.rooms.squaring import Diagonal, across, turned
from jobs.domain.rooms.typed import TypedDiagonal, TypedRoom, TypedWall
from jobs.domain.rooms.typed_lengths import MeasureError
from layout.values.walk import RIGHT, Leg, walk_outline

RECTANGLE = ("16'", "12'", "16'", "12'")
ELL = (("10'", "left"), ("4'", "left"), ("4'", "right"), ("4'", "left"), ("6'", "left"))


def room(
    walls: Sequence[str | tuple[str, str]],
    *diagonals: tuple[int, int, str],
    close_last: bool = False,
) -> Drawn:
    """Return the room of these walls and diagonals, a diagonal as corner, corner, length."""
    turns = [wall if isinstance(wall, tuple) else (wall, "left") for wall in walls]
    typed = tuple(TypedWall(length=length, turn=turn) for length, turn in turns)
    rows = tuple(TypedDiagonal(start=a, end=b, length=length) for a, b, length in diagonals)
    return draw_room(TypedRoom(walls=typed, diagonals=rows, close_last=close_last), unit="in")


def test_a_square_corner_is_told() -> None:
    drawn = room(RECTANGLE, (1, 3, "20'"))
    assert drawn.notes == ("Corner 2 is square: the diagonal reads 20'\u00a00\".",)


def test_a_corner_out_of_square_is_told_with_what_square_would_be() -> None:
    assert room(RECTANGLE, (1, 3, "20' 3\"")).notes == (
        "Corner 2 is 91.5 degrees: the diagonal reads 20'\u00a03\"; square would be 20'\u00a00\".",
    )


def test_four_walls_and_a_diagonal_hold_exactly() -> None:
    drawn = room(RECTANGLE, (1, 3, "20' 3\""))
    assert drawn.walls == pytest.approx([192, 144, 192, 144])
    assert math.dist(drawn.outline[0], drawn.outline[2]) == pytest.approx(243)


def test_the_other_diagonal_says_the_same_of_the_other_corner() -> None:
    other = math.dist(*room(RECTANGLE, (1, 3, "20' 3\"")).outline[1::2])
    drawn = room(RECTANGLE, (2, 4, f"{other} in"))
    assert math.dist(drawn.outline[0], drawn.outline[2]) == pytest.approx(243)


def test_a_reading_within_an_eighth_leaves_the_corners_square() -> None:
    assert room(RECTANGLE, (1, 3, "20' 1/8\"")).outline == room(RECTANGLE).outline


def test_a_diagonal_may_be_told_from_either_end() -> None:
    assert room(RECTANGLE, (3, 1, "20' 3\"")).outline == room(RECTANGLE, (1, 3, "20' 3\"")).outline


def test_a_room_walked_to_the_right_is_turned_alike() -> None:
    left = room(RECTANGLE, (1, 3, "20' 3\""))
    right = room([(length, "right") for length in RECTANGLE], (1, 3, "20' 3\""))
    for (x, y), (other_x, other_y) in zip(left.outline, right.outline, strict=True):
        assert (other_x, other_y) == pytest.approx((x, -y))


def test_an_ell_keeps_its_walls_and_meets_its_diagonals() -> None:
    drawn = room((*ELL, "8'"), (1, 3, "10' 10\""), (1, 5, "10' 1\""))
    assert drawn.walls == pytest.approx([120, 48, 48, 48, 72, 96])
    assert math.dist(drawn.outline[0], drawn.outline[2]) == pytest.approx(130)
    assert math.dist(drawn.outline[0], drawn.outline[4]) == pytest.approx(121)


def test_a_diagonal_past_two_corners_is_told_by_its_ends() -> None:
    (note,) = room((*ELL, "8'"), (1, 4, "7' 4\"")).notes
    assert note.startswith("From corner 1 to corner 4 the diagonal reads 7'")


def test_an_open_outline_is_turned_by_its_diagonal_too() -> None:
    drawn = room(("16'", "12'", "16'"), (1, 3, "20' 3\""), close_last=True)
    assert math.dist(drawn.outline[0], drawn.outline[2]) == pytest.approx(243)


def test_a_diagonal_no_corner_can_reach_is_refused_with_what_it_may_be() -> None:
    with pytest.raises(
        MeasureError, match="The diagonal reads 27'\u00a00\"; with corner 2 squa"
    ) as no:
        room(RECTANGLE, (1, 3, "27'"))
    assert (no.value.part, no.value.row, no.value.field) == ("diagonal", 0, "length")


@pytest.mark.parametrize(
    ("ends", "field", "sentence"),
    [
        ((1, 2), "end", "From corner 1 to corner 2 runs no diagonal"),
        ((4, 1), "end", "From corner 4 to corner 1 runs no diagonal"),
        ((2, 2), "end", "From corner 2 to corner 2 runs no diagonal"),
        ((1, 5), "end", "There is no corner 5; accepted: 1 to 4."),
        ((0, 3), "start", "There is no corner 0; accepted: 1 to 4."),
    ],
)
def test_a_diagonal_along_a_wall_or_to_no_corner_is_refused(
    ends: tuple[int, int], field: str, sentence: str
) -> None:
    with pytest.raises(MeasureError, match=sentence) as refused:
        room(RECTANGLE, (*ends, "20'"))
    assert (refused.value.part, refused.value.field) == ("diagonal", field)


def test_two_diagonals_that_contradict_each_other_are_refused() -> None:
    with pytest.raises(MeasureError, match="no turn of the corners brings it nearer than"):
        room(RECTANGLE, (1, 3, "20' 9\""), (2, 4, "20' 9\""))


@given(
    st.lists(st.integers(min_value=-4, max_value=4), min_size=5, max_size=5),
    st.integers(min_value=0, max_value=1),
)
def test_any_ell_is_found_again_from_its_walls_and_diagonals(degrees: list[int], hand: int) -> None:
    typed = [
        Leg(length=n, turn=t) for n, t in ((120, 90), (48, 90), (48, RIGHT), (48, 90), (72, 90))
    ]
    true = [Leg(length=a.length, turn=a.turn_deg + d) for a, d in zip(typed, degrees, strict=True)]
    outline = walk_outline(true, close=True).outline
    ends = ((0, 2), (0, 3), (0, 4), (0, 5))
    diagonals = [
        Diagonal(start=a, end=b, length=math.dist(outline[a], outline[b])) for a, b in ends
    ]
    walk = turned(typed, diagonals, closed=False)
    assert [across(walk, one) for one in diagonals] == pytest.approx(
        [one.length for one in diagonals]
    )
