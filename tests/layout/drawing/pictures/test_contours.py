"""Contours of a depth survey: where they run, at which depths, and what is written."""

from __future__ import annotations

import pytest

from layout.drawing.pictures.contours import (
    SurveyMark,
    contours_of,
    depth_at,
    draw_contours,
    levels_of,
)
from tests.layout.drawing.pictures.drawn import count_of, is_hatched, words_of

ROOM = ((0.0, 0.0), (120.0, 0.0), (120.0, 60.0), (0.0, 60.0))
# Two readings 60 in apart, their perpendicular bisector at x = 60.
TWO = (SurveyMark(x=30.0, y=30.0, low=0.0), SurveyMark(x=90.0, y=30.0, low=0.5))


def test_half_way_between_two_readings_the_floor_is_as_low_as_their_mean() -> None:
    assert depth_at(TWO, (60.0, 7.0)) == pytest.approx(0.25)
    # 20 in from one, 40 in from the other: weights 4 to 1, 0.5 / 5.
    assert depth_at(TWO, (50.0, 30.0)) == pytest.approx(0.1)


def test_a_reading_itself_is_met_and_none_is_exceeded() -> None:
    assert depth_at(TWO, (90.0, 30.0)) == 0.5
    assert all(0 <= depth_at(TWO, (x, 11.0)) <= 0.5 for x in range(0, 121, 5))


def test_the_line_of_the_mean_runs_down_the_middle_of_two_readings() -> None:
    (line,) = contours_of(TWO, ROOM, unit="in")[0.25]
    assert {round(x, 6) for x, _ in line} == {60.0}
    assert {round(line[0][1]), round(line[-1][1])} == {0, 60}


def test_lines_lie_a_round_step_apart_between_least_and_most() -> None:
    # 1/16 in would be seven lines between 0 and 1/2, 1/8 in three.
    assert levels_of(TWO, "in") == (0.125, 0.25, 0.375)
    metric = (SurveyMark(x=0.0, y=0.0, low=2.0), SurveyMark(x=900.0, y=0.0, low=9.0))
    assert levels_of(metric, "mm") == (4.0, 6.0, 8.0)


def test_every_point_of_a_line_is_as_low_as_the_line_says() -> None:
    marks = (*TWO, SurveyMark(x=60.0, y=55.0, low=0.25))
    for level, parts in contours_of(marks, ROOM, unit="in").items():
        assert parts
        # Between the corners of a triangle the depth is taken as even: 3 in across.
        assert all(abs(depth_at(marks, point) - level) < 1 / 32 for part in parts for point in part)


def test_no_line_leaves_the_room() -> None:
    ell = ((0.0, 0.0), (120.0, 0.0), (120.0, 30.0), (50.0, 30.0), (50.0, 60.0), (0.0, 60.0))
    marks = (SurveyMark(x=20.0, y=50.0, low=0.5), SurveyMark(x=110.0, y=10.0, low=0.0))
    points = [p for parts in contours_of(marks, ell, unit="in").values() for w in parts for p in w]
    assert points
    assert not [p for p in points if p[0] > 50.001 and p[1] > 30.001]


def test_a_level_floor_has_no_lines() -> None:
    level = (SurveyMark(x=10.0, y=10.0, low=0.25), SurveyMark(x=90.0, y=30.0, low=0.25))
    assert contours_of(level, ROOM, unit="in") == {}


def test_the_picture_writes_readings_and_depths() -> None:
    svg = draw_contours(TWO, ROOM, unit="in", title="Den")
    assert words_of(svg, "depth") == ["0", '½"']
    assert words_of(svg, "level") == ['⅛"', '¼"', '⅜"']
    assert not is_hatched(svg)
    assert count_of(svg, "reading") == 4
