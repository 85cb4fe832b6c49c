"""Evenings: nobody goes home while what the next morning begins with fits into the day."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest

from jobs.domain.days.crew import CrewDay
from jobs.domain.schedule.bench.bench import WorkBench
from jobs.domain.schedule.bench.evenings import early_evenings, rides_along
from jobs.domain.schedule.bench.values import WorkSpell
from jobs.domain.schedule.bench.worked import WorkedDay
from jobs.domain.schedule.people import Team, named_people
from jobs.domain.schedule.planning import Setting
from jobs.domain.schedule.step import Step
from jobs.domain.tasks import Task

MONDAY = date(2027, 3, 1)
CREW = named_people(CrewDay(people=1))


def step(code: str, halves: int, *, load: int = 0, use: str = "") -> Step:
    hours = Decimal(halves) / 2
    task = Task(code=code, zone="", label=code, hours=hours, basis="-")
    return Step(key=code, task=task, halves=halves, exact=hours, load=load, use=use)


def setting(*steps: Step) -> Setting:
    works = lambda day: day.weekday() < 5  # noqa: E731
    return Setting(steps=steps, team=Team(people=CREW), start=MONDAY, working=works)


def worked(plan: Setting, *days: tuple[tuple[str, int, int], ...]) -> list[WorkedDay]:
    """Return days from Monday on of what one person is at, from and to which half hour after 8."""
    bench = WorkBench(plan.steps, CREW, not_before={}, guarded={}, held={})
    made = []
    for number, spells in enumerate(days):
        opens = number * 96 + 32
        made.append(
            WorkedDay(
                date=MONDAY + timedelta(days=number),
                opens=opens,
                spells=tuple(
                    WorkSpell(person=0, key=key, begins=opens + 2 * first, ends=opens + 2 * last)
                    for key, first, last in spells
                ),
                before=bench,
                after=bench,
            )
        )
    return made


@pytest.mark.parametrize(
    ("gone", "early"),
    [
        (12, 1),  # 2 h are left of 8: half an hour of tear-out and its run of 1.5 h fit
        (13, 0),  # 1.5 h are left: they don't
    ],
)
def test_tear_out_that_would_have_fitted_with_its_run(gone: int, early: int) -> None:
    plan = setting(step("setup", gone), step("tear_out", 1), step("dump_run", 3, load=1))
    days = worked(
        plan,
        (("setup", 0, gone),),
        (("tear_out", 0, 1), ("dump_run", 1, 4), ("setup", 4, 8)),
    )
    assert early_evenings(days, plan) == early


def test_tear_out_needs_no_further_run_where_the_truck_leaves_that_day() -> None:
    """Half an hour is left after the run, and half an hour of tear-out begins the next day."""
    plan = setting(step("tear_out", 13), step("dump_run", 3, load=1), step("prep", 8))
    days = worked(
        plan,
        (("tear_out", 0, 12), ("dump_run", 12, 15)),
        (("tear_out", 0, 1), ("prep", 1, 9)),
    )
    assert early_evenings(days, plan) == 1


def test_what_leaves_the_next_day_under_two_hours_is_left_to_it() -> None:
    plan = setting(step("setup", 10), step("prep", 2), step("paint", 3))
    days = worked(plan, (("setup", 0, 10),), (("prep", 0, 2), ("paint", 2, 5)))
    assert early_evenings(days, plan) == 0


def test_a_room_that_somebody_lives_by_is_left_for_its_own_day() -> None:
    plan = setting(step("setup", 10), step("prep", 2, use="bedroom"), step("paint", 8))
    days = worked(plan, (("setup", 0, 10),), (("prep", 0, 2), ("paint", 2, 10)))
    assert early_evenings(days, plan) == 0


@pytest.mark.parametrize(("carried", "rides"), [(0, False), (9, True)])
def test_flooring_that_is_carried_in_after_the_dump_run_rides_along(
    carried: int, rides: bool
) -> None:
    plan = setting(step("carry", 2), step("tear_out", 4), step("dump_run", 3, load=1))
    day = (("carry", carried, carried + 2), ("tear_out", 2, 6), ("dump_run", 6, 9))
    assert rides_along(worked(plan, day)) is rides
