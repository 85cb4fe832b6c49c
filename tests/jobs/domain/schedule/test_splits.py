"""Tasks split by hand: what is done before a date, what not; the rest of the rules still hold."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from decimal import Decimal

from jobs.domain.days.crew import CrewDay, PlannedDay
from jobs.domain.days.days import plan_days
from jobs.domain.schedule.splits import SplitWork, TaskSplit
from tests.jobs.agreed import TASKS

MONDAY = date(2027, 3, 1)
THURSDAY, FRIDAY = MONDAY + timedelta(days=3), MONDAY + timedelta(days=4)
"""One person, 8 h a day: set up 1.5 h, tear out 4 h, eight rows of 2 h, base 3 h, clean 0.5 h."""


def days(split: SplitWork) -> tuple[PlannedDay, ...]:
    return plan_days(
        TASKS,
        CrewDay(people=1),
        MONDAY,
        lambda day: day.weekday() < 5,
        today=MONDAY,
        split=split,
    )


def of_task(planned: Sequence[PlannedDay], code: str) -> list[tuple[int, str, object]]:
    """Date, half hours and rows of a task on each day."""
    return [
        (day.date.day, str(entry.booked), entry.rows)
        for day in planned
        for entry in day.entries
        if entry.task_code == code
    ]


def test_rows_beyond_the_split_are_not_laid_before_its_date() -> None:
    planned = days(SplitWork(tasks={"lay:Den": TaskSplit(until=THURSDAY, row=3)}))
    # Monday has 2.5 h left after tear-out: one row of 2 h. Rows 2 and 3 on Tuesday, no Wednesday.
    assert of_task(planned, "lay") == [
        (1, "2.0", (1, 1)),
        (2, "4.0", (2, 3)),
        (4, "8.0", (4, 7)),
        (5, "2.0", (8, 8)),
    ]
    assert of_task(planned, "base") == [(5, "3.0", None)]


def test_half_hours_beyond_the_split_wait_for_its_date() -> None:
    planned = days(SplitWork(tasks={"base:Den": TaskSplit(until=FRIDAY, halves=2)}))
    # Rows end on Wednesday at 4.5 h: an hour of base there, two on Friday, then the cleaning.
    assert of_task(planned, "base") == [(3, "1.0", None), (5, "2.0", None)]
    assert of_task(planned, "clean") == [(5, "0.5", None)]


def test_the_hours_of_a_task_that_is_split_are_its_own() -> None:
    planned = days(SplitWork(tasks={"base:Den": TaskSplit(until=FRIDAY, halves=2)}))
    base = [entry for day in planned for entry in day.entries if entry.task_code == "base"]
    assert sum(entry.hours for entry in base) == Decimal(3)
    assert [entry.finishes for entry in base] == [False, True]


def test_none_of_a_task_stays() -> None:
    planned = days(SplitWork(tasks={"tear_out:Den": TaskSplit(until=THURSDAY)}))
    assert of_task(planned, "tear_out")[0][0] == 4


def test_a_short_day_ends_early() -> None:
    planned = days(SplitWork(short={MONDAY: 8}))
    # Set up 1.5 h and 2.5 h of tear-out are the four hours.
    assert of_task(planned, "tear_out") == [(1, "2.5", None), (2, "1.5", None)]
    assert planned[0].booked == Decimal(4)


def test_a_larger_crew_works_its_date_alone() -> None:
    planned = days(SplitWork(crews={MONDAY + timedelta(days=1): CrewDay(people=2)}))
    people = {day.date.day: {lane.person for lane in day.lanes} for day in planned}
    assert people[1] == {"Lead"}
    assert people[2] == {"Lead", "Installer 2"}
    # On Tuesday two lay seven rows of 2 h, the whole rest of them.
    assert of_task(planned, "lay") == [(1, "2.0", (1, 1)), (2, "14.0", (2, 8))]


def test_a_smaller_crew_works_its_date_alone() -> None:
    two = plan_days(
        TASKS,
        CrewDay(people=2),
        MONDAY,
        lambda day: day.weekday() < 5,
        today=MONDAY,
        split=SplitWork(crews={MONDAY: CrewDay(people=1, hours_per_day=Decimal(6))}),
    )
    assert {lane.person for lane in two[0].lanes} == {"Lead"}
    assert two[0].booked == Decimal("5.5")
