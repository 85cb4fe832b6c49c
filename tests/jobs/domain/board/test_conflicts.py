"""Conflicts of the board, each kind by hand."""

from __future__ import annotations

from datetime import timedelta

import pytest

from jobs.domain.board.booked import Promise, hours_words
from jobs.domain.board.conflicts import conflicts_in
from tests.jobs.domain.board.booked_days import BO, MONDAY, booked, second


def texts(*days: object, promises: tuple[Promise, ...] = ()) -> list[str]:
    return [one.text for one in conflicts_in(days, promises)]  # type: ignore[arg-type]


def test_a_crew_on_two_jobs_in_one_day() -> None:
    # 10 man-hours of two people are 5 hours on the clock, 9 are 4 1/2.
    assert texts(booked(3, hours="10"), booked(5, hours="9")) == [
        "First crew is on job 3 (5 h) and job 5 (4 1/2 h) on Mon, Nov 30; a day has 8 h."
    ]


def test_a_person_whom_two_crews_have() -> None:
    assert texts(booked(3), second(5, more=(BO,))) == [
        "Bo Reed is on job 3 (First crew) and job 5 (Second crew) on Mon, Nov 30."
    ]


def test_people_of_a_doubled_crew_are_not_said_again() -> None:
    kinds = [one.kind for one in conflicts_in([booked(3), booked(5)])]
    assert kinds == ["crew"]


def test_two_crews_on_one_job_are_no_conflict() -> None:
    assert texts(booked(3), second(3, more=(BO,))) == []


def test_other_days_and_other_people_are_no_conflict() -> None:
    assert texts(booked(3), booked(5, 1), second(5), second(3, 1)) == []


def test_a_hold_is_said_once_on_the_first_day_whose_work_it_stops() -> None:
    stops = (("asbestos", "The old floor may hold asbestos"),)
    days = [booked(3, 2, number=3, stops=stops), booked(3, 1, number=2, stops=stops), booked(3)]
    assert texts(*days) == [
        "Job 3, Tue, Dec 1: The old floor may hold asbestos. Nobody cleared it yet."
    ]


@pytest.mark.parametrize(
    ("begins", "broken"), [(-1, True), (0, False), (4, False), (6, False), (7, True)]
)
def test_a_promised_week_is_kept_from_monday_to_sunday(begins: int, broken: bool) -> None:
    promise = Promise(
        job=103,
        job_number=3,
        first=MONDAY + timedelta(days=begins),
        earliest=MONDAY,
        latest=MONDAY + timedelta(days=6),
        words="The quote says the week of Mon, Nov 30.",
    )
    assert bool(texts(promises=(promise,))) == broken


def test_a_further_job_another_date_or_hold_is_another_conflict() -> None:
    def key(*days: object) -> str:
        return conflicts_in(days)[0].key  # type: ignore[arg-type]

    stops = (("lead", "Old paint may hold lead"),)
    keys = [
        key(booked(3), booked(5)),
        key(booked(3), booked(5), booked(7)),
        key(booked(3, 1), booked(5, 1)),
        key(booked(3), second(5, more=(BO,))),
        key(booked(3, stops=stops)),
        key(booked(3, 1, stops=stops)),
    ]
    assert len(set(keys)) == len(keys)
    assert keys[0] == key(booked(5, hours="2"), booked(3))


@pytest.mark.parametrize(
    ("hours", "words"), [("0.5", "1/2 h"), ("8", "8 h"), ("7.5", "7 1/2 h"), ("0", "0 h")]
)
def test_hours_are_said_as_crews_say_them(hours: str, words: str) -> None:
    from decimal import Decimal

    assert hours_words(Decimal(hours)) == words
