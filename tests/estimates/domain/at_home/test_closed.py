"""Rooms and nights that are missed: by hand, over a weekend too."""

from __future__ import annotations

from datetime import date

from estimates.domain.at_home.closed import night_words, shut_rooms, shut_toilets, tonight
from jobs.domain.scope.scope import FrozenScope
from tests.estimates.a_price import a_quantity, a_task
from tests.estimates.domain.quotes.a_sale import HALL, ROOMS, days, two_rooms

THURSDAY, FRIDAY, MONDAY = date(2027, 3, 4), date(2027, 3, 5), date(2027, 3, 8)


def over_a_weekend() -> FrozenScope:
    """Carpet out on Friday, the last row on Monday."""
    return two_rooms(
        schedule=days({"furniture:up": "1", "tear_out:up": "3", "lay:up": "4"}, {"lay:up": "8"})
    )


def test_a_weekend_between_two_days_has_its_nights_too() -> None:
    bedroom, hall = shut_rooms(over_a_weekend(), ROOMS, (FRIDAY, MONDAY))
    assert [night.day for night in bedroom.nights] == [5, 6, 7]
    assert (bedroom.use, hall.use) == ("bedroom", "")
    assert night_words((bedroom, hall), (), ROOMS) == (
        (
            "The 3 nights of Fri, Mar 5 to Sun, Mar 7: your bedroom can't be slept in and the hall "
            "can't be used."
        ),
    )


def test_a_room_that_is_done_in_a_day_is_missed_that_day_alone() -> None:
    scope = two_rooms(schedule=days({"tear_out:up": "3", "lay:up": "12"}))
    shut = shut_rooms(scope, ROOMS, (FRIDAY,))
    assert all(room.is_shut_on(FRIDAY) and not room.nights for room in shut)
    assert night_words(shut, (), ROOMS) == ("The bedroom and the hall can be used every night.",)


def test_a_bed_that_comes_back_a_day_later_is_missed_for_that_night() -> None:
    scope = two_rooms(
        schedule=days(
            {"furniture:up": "1", "tear_out:up": "3", "lay:up": "12"}, {"furniture:up": "1"}
        )
    )
    bedroom, _ = shut_rooms(scope, ROOMS, (THURSDAY, FRIDAY))
    assert bedroom.nights == (THURSDAY,)
    assert tonight((bedroom,), (), THURSDAY) == "That night your bedroom can't be slept in."
    assert tonight((bedroom,), (), FRIDAY) == ""


def test_a_toilet_is_missed_from_its_lifting_to_its_setting() -> None:
    scope = two_rooms()
    lifted = two_rooms(
        quantities=(*scope.quantities, a_quantity("toilets", 1, zone="up", room="Hall")),
        tasks=(
            *scope.tasks,
            a_task("fixtures_off", "1.00", zone="up"),
            a_task("fixtures_on", "1.00", zone="up"),
        ),
        schedule=days({"fixtures_off:up": "1", "lay:up": "12"}, {"fixtures_on:up": "1"}),
    )
    toilets = shut_toilets(lifted, ROOMS, (THURSDAY, FRIDAY))
    assert [toilet.name for toilet in toilets] == [HALL.name]
    assert tonight((), toilets, THURSDAY) == "That night the toilet of the hall can't be used."
