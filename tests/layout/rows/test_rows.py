"""Rows and runs: the laying region cut along its row lines."""

from __future__ import annotations

import pytest
from shapely.geometry import Polygon, box

from layout.rows.frame import Frame
from layout.rows.rows import floor_of, joined
from layout.values.material import Board, End, Lay, Side

BOARD = Board(length=48, width=7, per_carton=10)
# +-----+
# |     |      an ell: 100 wide below, 60 wide above the line at 20
# |     +---+
# |         |
# +---------+
ELL = Polygon([(0, 0), (100, 0), (100, 20), (60, 20), (60, 40), (0, 40)])


def test_a_room_of_twenty_inches_takes_three_rows_of_seven() -> None:
    floor = floor_of(box(0, 0, 100, 20), BOARD, 7)
    assert [(row.number, row.y0, row.y1) for row in floor.rows] == [
        (1, 0, 7),
        (2, 7, 14),
        (3, 14, 21),
    ]


def test_the_first_rip_sets_every_row_line() -> None:
    floor = floor_of(box(0, 5, 100, 25), BOARD, 4)
    assert [row.y1 for row in floor.rows] == [9, 16, 23, 30]


def test_a_ripped_run_tells_what_is_missing_of_its_boards() -> None:
    floor = floor_of(box(0, 0, 100, 20), BOARD, 4)
    assert [run.rip for run in floor.runs] == [(3, 0), (0, 0), (0, 0), (0, 5)]


def test_the_runs_cover_the_region_exactly() -> None:
    floor = floor_of(ELL, BOARD, 3)
    assert sum(run.shape.area for run in floor.runs) == pytest.approx(ELL.area)


def test_a_row_across_an_inner_corner_is_one_run_and_no_rectangle() -> None:
    floor = floor_of(ELL, BOARD, 7)
    notched = [run for run in floor.runs if not run.rectangular]
    assert [(run.row, run.x0, run.x1) for run in notched] == [(3, 0, 100)]


def test_a_wall_between_parts_of_a_row_makes_two_runs() -> None:
    region = box(0, 0, 100, 14).difference(box(40, 6, 50, 14))
    floor = floor_of(region, BOARD, 7)
    assert [run.name for run in floor.runs] == ["1-1", "2-1", "2-2"]


def test_touching_runs_know_where_they_meet() -> None:
    region = box(0, 0, 100, 14).difference(box(40, 7, 50, 14))
    floor = floor_of(region, BOARD, 7)
    meetings = [(c.low, c.high, c.stretches) for c in floor.contacts]
    assert meetings == [(0, 1, ((0.0, 40.0),)), (0, 2, ((50.0, 100.0),))]


def test_a_post_inside_a_run_is_known_by_its_extent() -> None:
    region = box(0, 0, 100, 7).difference(box(40, 2, 44, 5))
    assert floor_of(region, BOARD, 7).runs[0].posts == ((40, 44),)


def test_a_register_may_be_enclosed() -> None:
    register = box(40, 2, 44, 5)
    floor = floor_of(box(0, 0, 100, 7).difference(register), BOARD, 7, registers=[register])
    assert floor.runs[0].posts == ()


def test_a_row_line_through_a_post_leaves_nothing_enclosed() -> None:
    region = box(0, 0, 100, 14).difference(box(40, 5, 44, 9))
    assert [run.posts for run in floor_of(region, BOARD, 7).runs] == [(), ()]


def test_rows_of_two_parts_are_numbered_on() -> None:
    parts = [floor_of(box(0, 0, 50, 14), BOARD, 7), floor_of(box(60, 3, 90, 17), BOARD, 7)]
    assert [run.name for run in joined(parts).runs] == ["1-1", "2-1", "3-1", "4-1"]


@pytest.mark.parametrize("direction", [0, 30, 90, 225])
@pytest.mark.parametrize("start", list(Side))
@pytest.mark.parametrize("first_end", list(End))
def test_the_working_frame_and_back_is_the_same_place(
    direction: float, start: Side, first_end: End
) -> None:
    frame = Frame(direction_deg=direction, lay=Lay(start=start, first_end=first_end))
    there = frame.inward([(3, 5), (20, 8)])
    assert sum(frame.outward(there), ()) == pytest.approx((3, 5, 20, 8))


def test_rows_from_the_high_side_begin_at_the_top() -> None:
    frame = Frame(direction_deg=0, lay=Lay(start=Side.HIGH))
    floor = floor_of(frame.region(ELL), BOARD, 7)
    assert floor.runs[0].x1 == 60


def test_the_origin_of_a_mirrored_board_is_still_its_lower_left_corner() -> None:
    frame = Frame(direction_deg=0, lay=Lay(start=Side.HIGH, first_end=End.RIGHT))
    assert frame.corner((-100.0, -40.0), (48.0, 7.0)) == (52.0, 33.0)
