"""Rooms that somebody lives by: when they are opened, and what an agreement changes."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from decimal import Decimal

from jobs.domain.days.crew import CrewDay, PlannedDay
from jobs.domain.days.days import plan_days
from jobs.domain.tasks import RoomShare, Task

MONDAY = date(2027, 3, 1)
THURSDAY = MONDAY + timedelta(days=3)


def tasks(use: str = "bedroom") -> tuple[Task, ...]:
    """Return a living room of 8 h of rows, then a room of 4 h to tear out and 8 h of rows."""
    rows = tuple([Decimal(1)] * 16)
    living = RoomShare(room="Living", hours=Decimal(8), rows=(1, 8))
    room = RoomShare(room="Room", hours=Decimal(8), use=use, rows=(9, 16))
    out = RoomShare(room="Room", hours=Decimal(4))
    return (
        Task(code="tear_out", zone="Up", label="Out", hours=Decimal(4), basis="-", rooms=(out,)),
        Task(
            code="lay",
            zone="Up",
            label="Lay",
            hours=Decimal(16),
            basis="-",
            after=("tear_out:Up",),
            rows=(1, 16),
            row_hours=rows,
            rooms=(living, room),
        ),
    )


def planned(
    start: date = MONDAY, use: str = "bedroom", agreed: Mapping[str, bool] | None = None
) -> tuple[PlannedDay, ...]:
    works = lambda day: day.weekday() < 5  # noqa: E731
    crew = CrewDay(people=1)
    return plan_days(tasks(use), crew, start, works, today=start, agreed=agreed)


def opened(days: tuple[PlannedDay, ...]) -> date:
    return min(d.date for d in days for e in d.entries if e.task_code == "tear_out")


def nights(days: tuple[PlannedDay, ...]) -> int:
    return sum(night.nights for day in days for night in day.nights)


def test_a_bedroom_is_torn_out_on_the_day_that_lays_it() -> None:
    """By hand: Monday rows 1 to 8; Tuesday 4 h out, rows 9 to 12; Wednesday rows 13 to 16."""
    days = planned()
    assert [day.date - MONDAY for day in days] == [timedelta(days=n) for n in range(3)]
    assert opened(days) == MONDAY + timedelta(days=1)
    assert nights(days) == 1


def test_with_the_nights_agreed_it_is_torn_out_first_and_the_hours_stay() -> None:
    days = planned(agreed={"Room": False})
    assert opened(days) == MONDAY
    assert nights(days) == 2
    assert sum(day.crew_hours for day in days) == 20


def test_agreed_nights_are_none_over_a_weekend() -> None:
    """From Thursday the room would be open from Friday on: it waits for Monday."""
    days = planned(THURSDAY, agreed={"Room": False})
    assert opened(days) == THURSDAY + timedelta(days=4)
    assert nights(days) == 1


def test_a_weekend_that_was_agreed_to_may_be_one_of_them() -> None:
    days = planned(THURSDAY, agreed={"Room": True})
    assert opened(days) == THURSDAY
    assert nights(days) == 4


def test_a_bath_that_is_not_the_only_one_is_opened_as_any_room() -> None:
    assert opened(planned(use="bath")) == MONDAY + timedelta(days=1)
    assert opened(planned(use="")) == MONDAY
