"""Whatever the tasks and the crew: what always holds of the days."""

from collections import defaultdict
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from jobs.domain.days.crew import CrewDay
from jobs.domain.schedule.needs import BESIDE
from jobs.domain.tasks import Task
from tests.jobs.domain.days.planned import WEEKDAYS, a_task, entries, planned

CODES = ("carry", "load", "tear_out", "prep", "level", "undercut", "transitions", "base")
hundredths = st.integers(1, 4000).map(lambda number: Decimal(number) / 100)


@st.composite
def jobs(draw: st.DrawFn) -> tuple[Task, ...]:
    """Up to eight tasks of which some wait for earlier ones, two floors and the road."""
    made: list[Task] = []
    for code in draw(st.lists(st.sampled_from(CODES), unique=True, max_size=6)):
        made.append(_drawn(draw, code, "", made))
    for zone in draw(st.sampled_from([(), ("up",), ("up", "down")])):
        made.append(_drawn(draw, "lay", zone, made, rows=(1, draw(st.integers(1, 40)))))
    if draw(st.booleans()):
        made.append(
            a_task("travel", str(draw(hundredths).quantize(Decimal("0.01"))), per_day=Decimal(1))
        )
    return tuple(draw(st.permutations(made)))


def _drawn(draw: st.DrawFn, code: str, zone: str, earlier: list[Task], **more: Any) -> Task:
    keys = [task.key for task in earlier]
    return a_task(
        code,
        str(draw(hundredths).quantize(Decimal("0.01"))),
        zone=zone,
        after=tuple(draw(st.lists(st.sampled_from(keys), unique=True))) if keys else (),
        wait_hours_after=Decimal(draw(st.sampled_from([0, 0, 4, 24, 48]))),
        helper=code in ("carry", "load", "tear_out"),
        **more,
    )


crews = st.builds(
    CrewDay,
    people=st.integers(1, 3),
    helpers=st.integers(0, 2),
    hours_per_day=st.sampled_from([Decimal("4"), Decimal("7.5"), Decimal(8), Decimal(10)]),
)


@given(jobs(), crews)
def test_the_hours_of_the_days_are_the_hours_of_the_tasks(
    tasks: tuple[Task, ...], crew: CrewDay
) -> None:
    days = planned(*tasks, crew=crew)

    summed: dict[tuple[str, str], Decimal] = defaultdict(Decimal)
    for day in days:
        for entry in day.entries:
            summed[entry.task_code, entry.zone] += entry.hours
    driven = {("travel", ""): Decimal(len(days))}
    exact = {(task.code, task.zone): task.hours for task in tasks}
    assert summed == {
        key: driven.get(key, exact[key]) for key in exact if days or key not in driven
    }


@given(jobs(), crews)
def test_the_rows_of_the_days_are_the_rows_of_the_plan_each_once_in_order(
    tasks: tuple[Task, ...], crew: CrewDay
) -> None:
    days = planned(*tasks, crew=crew)

    for task in tasks:
        rows = [
            row
            for _, entry in entries(days, task.code)
            if entry.zone == task.zone and entry.row_from is not None and entry.row_to is not None
            for row in range(entry.row_from, entry.row_to + 1)
        ]
        assert rows == list(range(1, task.row_count + 1))


@given(jobs(), crews)
def test_no_day_holds_more_than_the_crew_has(tasks: tuple[Task, ...], crew: CrewDay) -> None:
    for day in planned(*tasks, crew=crew):
        assert day.booked <= crew.capacity
        assert day.booked == sum(entry.booked for entry in day.entries)
        assert day.crew_hours == sum(entry.hours for entry in day.entries)


@given(jobs(), crews)
def test_half_hours_are_the_exact_hours_rounded_up_by_task(
    tasks: tuple[Task, ...], crew: CrewDay
) -> None:
    booked: dict[tuple[str, str], Decimal] = defaultdict(Decimal)
    for day in planned(*tasks, crew=crew):
        for entry in day.entries:
            booked[entry.task_code, entry.zone] += entry.booked
    for task in tasks:
        if not task.per_day:
            over = booked[task.code, task.zone] - task.hours
            assert 0 <= over < Decimal("0.5")
            assert booked[task.code, task.zone] * 2 % 1 == 0


@given(jobs(), crews)
def test_nobody_begins_before_what_comes_first_is_done_and_has_waited(
    tasks: tuple[Task, ...], crew: CrewDay
) -> None:
    days = planned(*tasks, crew=crew)
    first: dict[str, date] = {}
    last: dict[str, date] = {}
    for day in days:
        for entry in day.entries:
            key = f"{entry.task_code}:{entry.zone}" if entry.zone else entry.task_code
            first.setdefault(key, day.date)
            last[key] = day.date

    for task in tasks:
        for key in task.after:
            before = next(other for other in tasks if other.key == key)
            if BESIDE.get(task.code) == before.code:
                continue
            whole_days = timedelta(days=int(before.wait_hours_after // 24))
            assert first[task.key] >= last[key] + whole_days


@given(jobs(), crews)
def test_days_are_numbered_dated_and_working(tasks: tuple[Task, ...], crew: CrewDay) -> None:
    days = planned(*tasks, crew=crew)

    assert [day.number for day in days] == list(range(1, len(days) + 1))
    assert [day.date for day in days] == sorted({day.date for day in days})
    assert all(WEEKDAYS(day.date) and day.entries for day in days)
