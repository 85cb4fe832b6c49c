"""What a floor's sheet says of its walls before row one."""

from __future__ import annotations

from jobs.domain.packet.words.site import (
    door_words,
    tasks_in,
    turned_alike,
    under_words,
    wall_words,
)
from layout.values.request import read_request
from tests.layout.cutsheet.strips.test_walls import hall_request, room


def test_base_that_comes_off_is_taped_to_the_drywall_and_covers_the_gap() -> None:
    words = wall_words({"base_off", "lay", "base"}, "¼")
    assert words == (
        "Base comes off first: tape to the drywall. Base over the gap after the floor."
    )


def test_base_that_no_task_takes_off_stays_and_is_taped_to() -> None:
    with_shoe = wall_words({"lay", "shoe"}, "¼")
    assert with_shoe.startswith("Base stays on: tape to its face")
    assert with_shoe.endswith("Shoe over the gap after the floor.")


def test_a_gap_that_no_task_covers_is_said_to_be_open() -> None:
    assert wall_words({"lay"}, "¼").endswith(
        "No task covers the gap of ¼: ask the office what does."
    )


def test_new_base_where_none_was_is_taped_to_the_drywall() -> None:
    words = wall_words({"lay", "base", "shoe"}, "¼")
    assert words.startswith("New base comes after the floor: tape to the drywall.")
    assert "Base and shoe over the gap" in words


def test_a_floor_without_a_measured_doorway_says_so() -> None:
    assert door_words(doorways=1) == ""
    assert door_words(doorways=0).startswith("No doorway measured: call")


def test_the_gauge_of_casings_knows_plank_and_what_lies_under_it() -> None:
    words = under_words(thick='5/16"', attached=True, pad=False, barrier=False)
    assert words == 'Plank 5/16" thick, its own pad on its back; nothing else under it.'
    layers = under_words(thick="12 mm", attached=False, pad=True, barrier=True)
    assert layers.endswith("no pad of its own; under it a separate pad and a vapor barrier.")


def test_a_day_on_the_cover_has_whole_tasks_and_says_how_many_more() -> None:
    goal = "Carry in; Lay the floor (Hall rows 1 to 6, Den rows 1 to 11); Clean, hand over"
    assert tasks_in(goal, 60) == goal
    assert tasks_in(goal, 15) == (
        "Carry in; Lay the floor (Hall rows 1 to 6, Den rows 1 to 11); and 1 more on its sheet"
    )
    assert tasks_in(goal, 5) == "Carry in; Lay the floor; and 1 more on its sheet"
    assert tasks_in("Lay the floor (Hall rows 1 to 6, Den rows 1 to 11)", 5) == "Lay the floor"


def test_without_a_doorway_a_room_like_its_own_half_turn_may_begin_at_either_wall() -> None:
    plain, ring = room(), [[0, 0], [200, 0], [200, 150], [60, 150], [60, 90], [0, 90]]
    bent = {**plain, "zone": {**plain["zone"], "outline": ring}}
    door = hall_request()
    alike = [turned_alike(read_request(one)) for one in (plain, bent, door)]
    assert alike == [True, False, False]
    assert "(two alike: either)" in door_words(doorways=0, turned_alike=True)
    assert "(two alike: call)" in door_words(doorways=0)
