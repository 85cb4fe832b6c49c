"""Days, nights and what to clear, from the days that a scope was laid onto."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from estimates.domain.quotes.days import clear_sentences, day_sections, night_sentences
from jobs.domain.scope.schedule import RoomNights
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.tasks import RoomShare, Task
from tests.estimates.a_price import a_quantity, a_task
from tests.estimates.domain.quotes.a_sale import BEDROOM, ROOMS, days, two_rooms


def in_one_day() -> FrozenScope:
    """All of both rooms on one day."""
    return two_rooms(schedule=days({"furniture:up": "1", "tear_out:up": "3", "lay:up": "12"}))


def in_three_days() -> FrozenScope:
    """Carpet out and the first rows on day 1, more on day 2, the rest on day 3."""
    return two_rooms(
        schedule=days(
            {"furniture:up": "1", "tear_out:up": "3", "lay:up": "4"},
            {"lay:up": "4"},
            {"lay:up": "4"},
        )
    )


def test_one_day() -> None:
    (day,) = day_sections(in_one_day(), ROOMS, "8:30")
    assert day.title == "Day 1"
    assert day.text == (
        "We arrive about 8:30, every day. Furniture out of the way, carpet out and floor in."
    )


def test_work_over_several_days_says_where_it_stands() -> None:
    texts = [day.text for day in day_sections(in_three_days(), ROOMS, "")]
    assert texts == [
        "Furniture out of the way, carpet out and floor begun.",
        "Floor goes on.",
        "Floor finished.",
    ]


def test_furniture_that_is_moved_on_two_days_comes_back_on_the_last() -> None:
    scope = two_rooms(
        schedule=days(
            {"furniture:up": "1", "tear_out:up": "3", "lay:up": "6"},
            {"furniture:up": "1", "lay:up": "6"},
        )
    )
    first, last = (day.text for day in day_sections(scope, ROOMS, ""))
    assert first == "Furniture out of the way, carpet out and floor begun."
    assert last == "Floor finished and furniture back."


def test_no_night_is_lost_where_the_floor_is_in_on_the_same_day() -> None:
    assert night_sentences(in_one_day(), ROOMS) == (
        "The bedroom and the hall can be used every night.",
    )


def test_nights_between_the_first_and_the_last_day_of_a_room() -> None:
    assert night_sentences(in_three_days(), ROOMS) == (
        (
            "Your bedroom can't be slept in and the hall can't be used on the 2 nights after day 1 "
            "and day 2."
        ),
        "If a weekend or a day off falls between two days, its nights count too.",
    )


def test_nothing_is_said_of_days_that_nobody_knows() -> None:
    assert day_sections(two_rooms(), ROOMS, "8:30") == ()
    assert night_sentences(two_rooms(), ROOMS) == ()


def test_what_to_clear_names_rooms_with_furniture() -> None:
    said = clear_sentences(two_rooms(), ROOMS)
    assert said[0] == (
        "Before day 1: clear closets, shelves and small things in the bedroom and strip the beds; "
        "we move what is heavy."
    )
    assert "Keep the hall clear." in said
    assert "Aquariums, pianos and electronics" in said[2]


def test_a_homeowner_who_moves_the_furniture_clears_it_all() -> None:
    scope = two_rooms(left_to_homeowner=("furniture",))
    assert clear_sentences(scope, (BEDROOM,))[0] == (
        "Before day 1: clear all furniture out of the bedroom."
    )


def test_a_toilet_that_is_off_overnight_is_told() -> None:
    scope = two_rooms()
    lifted = two_rooms(
        quantities=(*scope.quantities, a_quantity("toilets", 1, zone="up", room="Hall")),
        tasks=(*scope.tasks, *_fixture_tasks()),
        schedule=days(
            {"furniture:up": "1", "tear_out:up": "3", "fixtures_off:up": "1"},
            {"lay:up": "12", "fixtures_on:up": "1"},
        ),
    )
    assert "The toilet of the hall can't be used on the night after day 1." in night_sentences(
        lifted, ROOMS
    )


def _fixture_tasks() -> tuple[Task, ...]:
    return (a_task("fixtures_off", "1.00", zone="up"), a_task("fixtures_on", "1.00", zone="up"))


def test_a_room_to_live_in_is_missed_until_all_of_it_is_back() -> None:
    laid = replace(
        days({"tear_out:up": "3", "lay:up": "12"}, {"furniture:up": "1"}),
        nights=(RoomNights(room="Bedroom", use="bedroom", day=1, nights=1),),
    )
    shares = (RoomShare(room="Bedroom", hours=Decimal(12), use="bedroom", rows=(1, 18)),)
    tasks = tuple(
        replace(task, rooms=shares) if task.code == "lay" else task for task in two_rooms().tasks
    )
    said = night_sentences(two_rooms(tasks=tasks, schedule=laid), ROOMS)
    assert said[0].startswith("Your bedroom can't be slept in")
    whole = replace(laid, nights=())
    said = night_sentences(two_rooms(tasks=tasks, schedule=whole), ROOMS)
    assert said[0].startswith("The bedroom")
