"""What the days of a real crew are otherwise than the priced ones."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from jobs.domain.scope.laid_for.differing import days_differing
from jobs.domain.scope.schedule import DayPart, RoomNights, ScopeSchedule, SiteDay


def a_day(task: str, hours: int, booked: str = "1") -> SiteDay:
    return SiteDay(booked=Decimal(booked), parts=(DayPart(task=task, hours=Decimal(hours)),))


PRICED = ScopeSchedule(
    people=2,
    hours_per_day=Decimal(8),
    trip_hours=Decimal(1),
    days=(a_day("setup", 16), a_day("lay:Den", 6, "0.5")),
)


def test_the_same_days_differ_in_nothing() -> None:
    assert days_differing(PRICED, PRICED) == ()


def test_crew_trips_booked_days_and_hours_are_told() -> None:
    real = replace(
        PRICED,
        people=1,
        days=(a_day("setup", 8), a_day("setup", 8), a_day("lay:Den", 7)),
    )
    lines = [(one.what, one.priced, one.real) for one in days_differing(PRICED, real)]
    assert lines == [
        ("people", Decimal(2), Decimal(1)),
        ("trips", Decimal(2), Decimal(3)),
        ("booked", Decimal("1.5"), Decimal(3)),
        ("hours", Decimal(22), Decimal(23)),
    ]


def test_nights_are_told_room_by_room() -> None:
    nights = (
        RoomNights(room="Bedroom", use="bedroom", day=1, nights=1),
        RoomNights(room="Bedroom", use="bedroom", day=2, nights=2),
    )
    (one,) = days_differing(PRICED, replace(PRICED, nights=nights))
    assert (one.what, one.room, one.priced, one.real) == (
        "nights",
        "Bedroom",
        Decimal(0),
        Decimal(3),
    )


def test_where_only_the_work_of_days_differs_the_days_are_named() -> None:
    real = replace(PRICED, days=(a_day("lay:Den", 16), a_day("lay:Den", 6, "0.5")))
    (one,) = days_differing(PRICED, real)
    assert (one.what, one.days) == ("work", (1,))
