"""Rooms that somebody lives by and that no week holds: nobody waits for one in vain.

One person, eight hours a day. The room takes 23.5 h of tear-out and 16 h of rows, 39.5 h: by itself
it fits Monday to Friday. But the living room's rows come before its own, and its cartons, carried
in on Thursday, lie until Tuesday. So opened on Monday it is bare on Wednesday, Thursday lays the
living room, Friday and the next Monday the room: open over the weekend all the same. Opened on
Thursday, its floor is out on Monday (7.5, 8 and 8 h), Tuesday lays the living room, Wednesday and
Thursday the room, two working days sooner and with as many nights.
"""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest

from jobs.domain.days.crew import CrewDay, PlannedDay
from jobs.domain.days.days import plan_days
from jobs.domain.schedule.lived_in import LivedIn
from jobs.domain.tasks import RoomShare, Task

THURSDAY = date(2027, 3, 4)


def tasks(lie: int) -> tuple[Task, ...]:
    """Return the work of both rooms; cartons lie for so many hours before the first row."""
    living = RoomShare(room="Living", hours=Decimal(8), rows=(1, 8))
    room = RoomShare(room="Room", hours=Decimal(16), use="bedroom", rows=(9, 24))
    out = Decimal("23.5")
    return (
        Task(
            code="carry",
            label="Carry",
            hours=Decimal("0.5"),
            basis="-",
            wait_hours_after=Decimal(lie),
        ),
        Task(
            code="tear_out",
            zone="Up",
            label="Out",
            hours=out,
            basis="-",
            rooms=(RoomShare(room="Room", hours=out),),
        ),
        Task(
            code="lay",
            zone="Up",
            label="Lay",
            hours=Decimal(24),
            basis="-",
            after=("tear_out:Up", "carry"),
            rows=(1, 24),
            row_hours=(Decimal(1),) * 24,
            rooms=(living, room),
        ),
    )


def planned(lie: int) -> tuple[PlannedDay, ...]:
    works = lambda day: day.weekday() < 5  # noqa: E731
    return plan_days(tasks(lie), CrewDay(people=1), THURSDAY, works, today=THURSDAY)


def opened(days: tuple[PlannedDay, ...]) -> date:
    return min(d.date for d in days for e in d.entries if e.task_code == "tear_out")


def nights(days: tuple[PlannedDay, ...]) -> list[int]:
    return [night.nights for day in days for night in day.nights]


def test_a_room_that_is_open_over_the_weekend_anyhow_does_not_wait_for_monday() -> None:
    days = planned(116)  # from 8:30 on Thursday to Tuesday's 4:30
    assert opened(days) == THURSDAY
    assert days[-1].date == THURSDAY + timedelta(days=7)
    assert nights(days) == [7]


def test_a_room_that_a_week_holds_waits_for_it() -> None:
    """Nothing lies: the living room is laid by Friday, the room from Monday to Friday."""
    days = planned(0)
    assert opened(days) == THURSDAY + timedelta(days=4)
    assert days[-1].date == THURSDAY + timedelta(days=8)
    assert nights(days) == [4]


@pytest.mark.parametrize(("alone", "days"), [(False, 4), (True, 5)])
def test_a_day_of_tear_out_ends_with_a_run_to_the_dump(alone: bool, days: int) -> None:
    """18 half hours of tear-out beside a run of 3, 12 a day: two days of it.

    45 and one run that others do nothing beside, 48: four days. One person drives twice: 51, five.
    """
    room = LivedIn(
        name="Room",
        use="bedroom",
        opening=(),
        beside=(),
        steps=(),
        closing=(),
        lay="lay:Up",
        first=1,
        last=2,
        before=20,
        whole=45,
        waits=0,
        torn=18,
        run=3,
        alone=alone,
    )
    assert room.days(12) == days
