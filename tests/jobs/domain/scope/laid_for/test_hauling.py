"""Runs to the dump: by the load of 400 ft2, and one on each day on which old floor comes out."""

from __future__ import annotations

from decimal import Decimal

import pytest

from tests.jobs.domain.schedule.worked_job import the_job


@pytest.mark.parametrize(("people", "runs"), [(1, 3), (2, 2)])
def test_each_day_that_tears_out_has_its_run(people: int, runs: int) -> None:
    """580 ft2 are two loads; one person tears out on three days, two people on two."""
    work, _ = the_job(people)

    counted = next(entry for entry in work.quantities if entry.code == "dump_runs")
    driven = next(task for task in work.tasks if task.code == "dump_run")
    assert counted.amount == runs
    assert driven.passes == runs
    assert driven.hours == runs * Decimal("1.5")
    assert driven.basis.startswith(f"Runs to the dump: {runs} at 1.5 h each")


@pytest.mark.parametrize(("people", "days"), [(1, 7), (2, 4)])
def test_trips_are_the_days_with_these_runs(people: int, days: int) -> None:
    work, _ = the_job(people)
    assert next(entry for entry in work.quantities if entry.code == "trips").amount == days
