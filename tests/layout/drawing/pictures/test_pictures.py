"""Moisture on the plan, a stair's section, trim runs, a stack of cartons: the data's figures."""

from __future__ import annotations

import pytest

from layout.drawing.pictures.cartons import draw_stack, stack_of
from layout.drawing.pictures.moisture import ReadRoom, draw_readings, lines_of
from layout.drawing.pictures.stair import SectionStep, draw_stair, step_line, written
from layout.drawing.pictures.trim_runs import DrawnRun, draw_runs, run_line
from tests.layout.drawing.pictures.drawn import count_of, is_hatched, words_of

ROOM = ((0.0, 0.0), (120.0, 0.0), (120.0, 96.0), (0.0, 96.0))
HALL = ((125.0, 0.0), (161.0, 0.0), (161.0, 96.0), (125.0, 96.0))
STEPS = (
    SectionStep(now=7.0, after=7.5, words='7 1/2"'),
    SectionStep(now=7.5, after=7.5, words='7 1/2"'),
    SectionStep(now=7.5, after=7.0, words='7"'),
)


def test_readings_stand_in_their_room_and_an_unread_one_says_so() -> None:
    den = ReadRoom(name="Den", ring=ROOM, readings=("13 %, over", "9 %"))
    svg = draw_readings([den, ReadRoom(name="Hall", ring=HALL, readings=())], title="House")
    assert words_of(svg, "room-name") == ["Den", "Hall"]
    assert words_of(svg, "reading") == ["13 %, over", "9 %", "no reading"]
    assert count_of(svg, "wall") == 2


def test_more_readings_than_a_room_holds_are_counted() -> None:
    many = ReadRoom(name="Den", ring=ROOM, readings=tuple(f"{n} %" for n in range(19, 9, -1)))
    assert lines_of(many) == ["19 %", "18 %", "17 %", "16 %", "15 %", "and 5 lower"]


def test_a_stair_rises_riser_after_riser_with_a_tread_between() -> None:
    # Floor below comes up by 0 and the treads by 1/2: 7.5, 15 and 22 in over the floor.
    assert step_line(STEPS, run=10.0) == [
        (0.0, 0.0),
        (0.0, 7.5),
        (10.0, 7.5),
        (10.0, 15.0),
        (20.0, 15.0),
        (20.0, 22.0),
    ]


def test_the_section_numbers_every_riser_and_draws_it_as_it_is_too() -> None:
    svg = draw_stair(STEPS, run=10.0, title="Main stair")
    assert words_of(svg, "riser-height") == ['1: 7 1/2"', '2: 7 1/2"', '3: 7"']
    assert (count_of(svg, "stair"), count_of(svg, "now")) == (1, 1)
    assert not is_hatched(svg)


def test_where_risers_lie_close_those_that_differ_are_written() -> None:
    # 14 risers of 3.3 mm on the sheet: every second fits, and the last is another one.
    steps = [SectionStep(now=7.3, after=7.3, words="7.3")] * 13
    steps.append(SectionStep(now=7.2, after=7.4, words="7.4"))
    assert written(steps, 3.3 / 7.3) == [1, 3, 5, 7, 9, 11, 13, 14]


def test_a_run_lies_on_its_wall_between_its_ends() -> None:
    run = DrawnRun(name="2", wall=1, begins=32.0, ends=96.0, words="5' 4\"")
    assert run_line(run, (ROOM[1], ROOM[2])) == ((120.0, 32.0), (120.0, 96.0))


def test_a_run_too_short_for_its_words_keeps_its_name() -> None:
    long = DrawnRun(name="1", wall=0, begins=0.0, ends=120.0, words="10' 0\"")
    short = DrawnRun(name="2", wall=2, begins=0.0, ends=6.0, words='6"')
    svg = draw_runs(ROOM, [long, short], title="Den")
    assert words_of(svg, "run-name") == ["1: 10' 0\"", "2"]
    assert count_of(svg, "run-end") == 4


def test_the_last_carton_divides_into_laid_and_spare() -> None:
    # 3 cartons of 8 for 19 planks: 8, 8, 3 and 5 spare.
    boxes = stack_of(3, planks=19, per_carton=8)
    assert [(one.laid, one.spare) for one in boxes] == [(8, 0), (8, 0), (3, 5)]


def test_cartons_stand_five_wide() -> None:
    assert [(one.column, one.level) for one in stack_of(7, planks=70, per_carton=10)][4:] == [
        (4, 0),
        (0, 1),
        (1, 1),
    ]


def test_the_stack_says_its_sum() -> None:
    svg = draw_stack(3, planks=19, per_carton=8, title="To buy")
    assert words_of(svg, "sum") == ["3 × 8 = 24 planks: 19 laid, 5 spare"]
    assert words_of(svg, "spare") == ["3 + 5"]
    assert (count_of(svg, "carton"), count_of(svg, "spare-from")) == (3, 1)


@pytest.mark.parametrize("cartons", [0, 61])
def test_no_stack_is_drawn_of_nothing_or_of_more_than_can_be_told_apart(cartons: int) -> None:
    assert draw_stack(cartons, planks=19, per_carton=8, title="To buy") == ""
