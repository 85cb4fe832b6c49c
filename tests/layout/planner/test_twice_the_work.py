"""More work never ends with more planks."""

from __future__ import annotations

from dataclasses import replace

import pytest

from layout.planner.plan_floor import plan_floor
from layout.values.request import read_request
from tests.bench.hard_rooms import hard_rooms


# Of the first a plan of 39 planks was passed on the way, at 60 iterations, to one thought better
# that took 40 once its slanted ends were written down.
@pytest.mark.parametrize(
    ("name", "iterations"),
    [("diagonal 4", 30), ("round 4", 30), ("just over 7", 50), ("just over 8", 100)],
)
def test_twice_the_work_takes_no_more_planks(name: str, iterations: int) -> None:
    request = read_request(hard_rooms()[name])
    once, twice = (
        plan_floor(replace(request, effort_iterations=n)).totals.planks
        for n in (iterations, 2 * iterations)
    )
    assert twice <= once
