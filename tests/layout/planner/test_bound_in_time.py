"""The bound beyond the area: early by the clock, in any case where work is counted."""

from __future__ import annotations

from dataclasses import replace

import pytest

from layout.planner.effort import Progress
from layout.planner.plan_floor import plan_floor
from layout.proof.certificate import check
from layout.proof.floor import area_bound
from layout.values.plan import Plan
from layout.values.request import PlanRequest, read_request
from tests.bench.rooms import bench_rooms


def room(name: str) -> PlanRequest:
    return read_request(bench_rooms()[name])


def counted(name: str, iterations: int) -> Plan:
    return plan_floor(replace(room(name), effort_iterations=iterations))


# All of the work went into the search, and the bound was the area: 40, 55 and 56 planks.
@pytest.mark.parametrize(("name", "planks"), [("ell 2", 42), ("ell 4", 57), ("thin post 4", 60)])
def test_work_counted_ends_with_a_bound_beyond_the_area(name: str, planks: int) -> None:
    plan = counted(name, 100)
    assert (plan.status, plan.totals.planks, plan.totals.lower_bound) == ("proven", planks, planks)
    assert check(room(name), 0.0, plan.proof) == planks > area_bound(room(name))


def test_a_little_work_counted_looks_for_no_bound() -> None:
    assert counted("ell 4", 60).totals.lower_bound == area_bound(room("ell 4"))


def test_by_the_clock_the_bound_comes_before_most_of_the_search() -> None:
    heard: list[Progress] = []
    asks = iter(range(6000))
    plan_floor(room("ell 4"), stop=lambda: next(asks, None) is None, progress=heard.append)
    beyond = [seen for seen in heard if seen.lower_bound > area_bound(room("ell 4"))]
    assert beyond[0].iterations < 150
    assert beyond[-1].lower_bound == beyond[-1].planks == 57
