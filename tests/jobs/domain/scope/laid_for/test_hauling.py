"""Runs to the dump: by the load of 400 ft2, and one on each day on which old floor comes out."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from jobs.domain.days.days import plan_days
from jobs.domain.scope.hours import Work
from tests.jobs.domain.days.planned import WEEKDAYS
from tests.jobs.domain.schedule.full_house import full_house
from tests.jobs.domain.schedule.worked_job import the_job

MONDAY = date(2027, 3, 1)


@pytest.mark.parametrize("people", [1, 2])
def test_a_truck_takes_400_square_feet(people: int) -> None:
    """580 ft2 are two loads; they come out on two days."""
    work, _ = the_job(people)
    assert _runs(work) == (2, 2, Decimal("3.00"))


@pytest.mark.parametrize(("people", "runs"), [(1, 3), (2, 4)])
def test_each_day_that_tears_out_has_its_run(people: int, runs: int) -> None:
    """A house of 420 ft2, two loads: its bedroom and its bath come out on days of their own.

    Two people pour in the living room on its day, and leave the hall beside it for the next.
    """
    work, crew = full_house(people)
    days = plan_days(work.tasks, crew, MONDAY, WEEKDAYS, today=MONDAY)
    assert _runs(work) == (runs, runs, runs * Decimal("1.5"))
    assert sum(any(e.task_code == "tear_out" for e in day.entries) for day in days) == runs
    driven = next(task for task in work.tasks if task.code == "dump_run")
    assert driven.basis.startswith(f"Runs to the dump: {runs} at 1.5 h each")


def _runs(work: Work) -> tuple[int, int, Decimal]:
    """Return the runs that are counted, those that are driven, and their hours."""
    counted = next(entry for entry in work.quantities if entry.code == "dump_runs")
    driven = next(task for task in work.tasks if task.code == "dump_run")
    return int(counted.amount), driven.passes, driven.hours


@pytest.mark.parametrize(("people", "days"), [(1, 7), (2, 4)])
def test_trips_are_the_days_with_these_runs(people: int, days: int) -> None:
    work, _ = the_job(people)
    assert next(entry for entry in work.quantities if entry.code == "trips").amount == days
