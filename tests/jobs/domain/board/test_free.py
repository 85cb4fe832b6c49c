"""Free days and half days of a crew, named."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest

from jobs.domain.board.booked import BookedDay
from jobs.domain.board.free import free_days, room_on
from tests.jobs.domain.board.booked_days import MONDAY, booked

WEEK = [MONDAY + timedelta(days=number) for number in range(5)]
EIGHT = Decimal(8)


@pytest.mark.parametrize(
    ("man_hours", "hours_per_day", "room"),
    [
        # Two people: 8 man-hours take 4 of 8 hours, so half is free; 9 take 4 1/2, so less is.
        ([], "8", "whole"),
        (["8"], "8", "half"),
        (["9"], "8", ""),
        (["4", "4"], "8", "half"),
        (["4", "6"], "8", ""),
        (["16"], "8", ""),
        # Half of a day of three hours is 1 1/2: less than two hours is not offered.
        (["3"], "3", ""),
        (["2"], "3", "half"),
    ],
)
def test_what_is_free_of_a_day(man_hours: list[str], hours_per_day: str, room: str) -> None:
    days = [booked(number, hours=each) for number, each in enumerate(man_hours, start=1)]
    assert room_on(days, Decimal(hours_per_day)) == room


def words(*days: BookedDay, workable: list[date] = WEEK) -> str:
    by_date: dict[date, list[BookedDay]] = {}
    for day in days:
        by_date.setdefault(day.date, []).append(day)
    return free_days(by_date, EIGHT, workable).words


def test_single_days_halves_and_the_rest_of_the_weeks_are_named() -> None:
    days = [booked(1, 0, hours="8"), booked(1, 2)]
    assert words(*days) == "free on Tue, Dec 1 and from Thu, Dec 3; half free on Mon, Nov 30"


def test_one_day_at_the_end_is_a_single_day() -> None:
    assert words(*(booked(1, day) for day in range(4))) == "free on Fri, Dec 4"


def test_a_crew_without_a_free_day_has_no_words() -> None:
    assert words(*(booked(1, day) for day in range(5))) == ""


def test_a_crew_without_work_is_free_from_the_first_day() -> None:
    assert words() == "free from Mon, Nov 30"
