"""A floor's size as it is taped, its lines by their walls, and when two rows are joined."""

from __future__ import annotations

from dataclasses import replace

from jobs.domain.packet.words.site import first_two, walls_of_lines
from jobs.domain.packet.words.tape import size_words
from layout.drawing.floor.landmarks import Landmark
from layout.planner.plan_floor import plan_floor
from layout.values.request import read_request
from tests.layout.cutsheet.strips.test_walls import hall, hall_request, room, strips

HALL = read_request(hall_request())
ROOM = read_request(room())


def test_a_floor_says_how_large_it_is_across_along_and_at_its_longest() -> None:
    assert size_words(HALL, plan_floor(HALL)) == (
        "Floor 46¼ across the rows, 254 along row 1, 256¼ where it is longest."
    )
    assert size_words(ROOM, plan_floor(ROOM)) == "Floor 60 across the rows, 161 along row 1."


def test_a_line_has_the_name_of_the_wall_that_it_lies_in() -> None:
    walls = (
        Landmark(words="wall 1", ends=((0.0, 0.0), (254.0, 0.0))),
        Landmark(words="wall 2", ends=((254.0, 0.0), (254.0, 46.25))),
        Landmark(words="door", ends=((254.0, 8.0), (254.0, 38.0)), doorway=True),
    )
    assert set(walls_of_lines(HALL, walls).values()) == {"wall 2"}
    assert walls_of_lines(HALL, ()) == {}
    assert walls_of_lines(ROOM, walls) == {}


def test_rows_one_and_two_are_joined_once_both_are_cut() -> None:
    floor = hall()
    (words,) = first_two(floor, HALL)[1]
    assert "ends joined, sides open: fill boxes, cut; then join off the wall" in words
    assert first_two(replace(floor, rows=floor.rows[1:]), HALL) == {}
    assert first_two(strips(room()), ROOM) != {}
