"""Row edges from the start wall and stopping lines, by hand; placings of a stick."""

from __future__ import annotations

from typing import Any

import pytest

from jobs.domain.packet.stick import stick_content
from layout.cutsheet.placings import story_sticks
from layout.cutsheet.stick import RowEdges, RowStop, row_lines, stopping_lines
from layout.planner.plan_floor import plan_floor
from layout.values.plan import Plan
from layout.values.request import PlanRequest, read_request
from tests.rooms import request


def planned(outline: list[list[float]], **changes: Any) -> tuple[PlanRequest, Plan]:
    plan_request = read_request(request(outline, effort_iterations=5, **changes))
    return plan_request, plan_floor(plan_request)


STUDY: list[list[float]] = [[0, 0], [161, 0], [161, 128.5], [0, 128.5]]


@pytest.mark.parametrize("start", ["low", "high"])
def test_figures_start_at_the_start_wall_whichever_it_is(start: str) -> None:
    # 128 1/2 less two gaps is 128: 17 rows of 7 and two of 4 1/2.
    plan_request, plan = planned(STUDY, lay={"start": start})
    lines = row_lines(plan_request, plan)
    assert [line.far for line in lines[:2]] == pytest.approx([4.75, 11.75])
    assert lines[-1].far == pytest.approx(128.25)
    first, last = stopping_lines(plan_request, plan)
    assert (first.row, first.faces, first.pieces) == (1, "near", ())
    assert (last.row, last.faces, last.pieces) == (19, "far", ())
    assert first.stays == pytest.approx((4.5, 4.5))


def test_a_slide_gives_to_one_side_what_it_takes_from_the_other() -> None:
    plan_request, plan = planned(STUDY)
    first, last = stopping_lines(plan_request, plan)
    assert first.slid(0.25) == pytest.approx((4.75, 4.75))
    assert last.slid(0.25) == pytest.approx((4.25, 4.25))


def test_a_floor_of_one_row_keeps_its_width_between_two_walls() -> None:
    # 6 in between walls, 5 1/2 between the gaps: whatever the slide, so much stays.
    plan_request, plan = planned([[0, 0], [100, 0], [100, 6], [0, 6]])
    near, far = stopping_lines(plan_request, plan)
    assert (near.faces, far.faces) == ("near", "far")
    assert far.slid(0.25) == far.stays == pytest.approx((5.5, 5.5))
    content = stick_content(plan_request, plan, 1)
    assert [line["far"] for line in content["lines"]] == ['5¾"']
    assert content["make"] == ('Straight batten, cut off at 5¾". One mark, 5¾" from the end.')
    assert content["slide"]["fixed"] == ["row 1: 5½ stays between two walls, whatever the slide."]


def test_a_slanted_wall_leaves_from_so_much_to_so_much() -> None:
    # The far wall rises 2 in over 100: the last row is cut to a slope.
    plan_request, plan = planned([[0, 0], [100, 0], [100, 52], [0, 50]])
    last = stopping_lines(plan_request, plan)[-1]
    assert last.stays[1] - last.stays[0] == pytest.approx(2 * 99.5 / 100, abs=0.05)


def row(number: int, near: float, far: float) -> RowEdges:
    return RowEdges(row=number, near=near, far=far)


def test_an_eight_foot_stick_is_laid_again_on_the_last_row_it_reached() -> None:
    lines = [row(1, 0.25, 4.25)] + [row(k, 7 * k - 9.75, 7 * k - 2.75) for k in range(2, 41)]
    sticks = story_sticks(lines, "in")
    # 4 1/4, then every 7: the fourteenth mark is 95 1/4, the fifteenth would be 102 1/4.
    assert sticks.pitch == pytest.approx(7)
    assert [placing.base for placing in sticks.placings] == [None, 14, 27]
    row_14, place_14 = sticks.placings[0].marks[-1]
    assert (row_14, round(place_14, 6)) == (14, 95.25)
    assert sticks.placings[1].rests == pytest.approx(4.25)
    row_15, place_15 = sticks.placings[1].marks[0]
    assert (row_15, round(place_15, 6)) == (15, 11.25)
    assert [placing.marks[-1][0] for placing in sticks.placings] == [14, 27, 40]


def test_narrow_rows_are_drawn_larger_on_a_shorter_stick() -> None:
    # 2 1/4 in at 1:12 are 3/16 in of paper, less than 1/5; at 1:8 they are more.
    lines = [row(k, 2.25 * (k - 1), 2.25 * k) for k in range(1, 30)]
    sticks = story_sticks(lines, "in")
    assert (sticks.scale, sticks.length) == (8, 64)


def test_no_rows_make_no_placings() -> None:
    assert story_sticks([], "in").placings == ()


def test_between_two_cuts_nothing_slides() -> None:
    line = RowStop(row=1, at=5.75, faces="far", stays=(5.5, 5.5), width=7, ripped=True, slides=0)
    assert line.slid(1) == (5.5, 5.5)
