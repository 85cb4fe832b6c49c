"""Effort: more of it never makes a floor of more planks, and what is promised is kept."""

from __future__ import annotations

from dataclasses import replace

import pytest

from layout.planner.effort import Effort
from layout.planner.plan_floor import plan_floor
from layout.values.plan import Plan
from layout.values.request import read_request
from tests.bench.rooms import bench_rooms
from tests.rooms import request


def planks_of(name: str, iterations: int) -> int:
    """Return the planks of one of the bench's rooms after so many iterations."""
    room = replace(read_request(bench_rooms()[name]), effort_iterations=iterations)
    return plan_floor(room).totals.planks


@pytest.mark.parametrize("name", ["angled 5", "angled 7", "bay 2", "ell 9"])
def test_twice_the_iterations_never_take_more_planks(name: str) -> None:
    counts = [planks_of(name, iterations) for iterations in (20, 40, 80, 160)]
    assert counts == sorted(counts, reverse=True)


class Seconds:
    """A clock of a test: what is left of its seconds, so many less at every look."""

    def __init__(self, seconds: float, step: float) -> None:
        self.left, self.step, self.looks = seconds, step, 0

    def __call__(self) -> float:
        self.left, self.looks = self.left - self.step, self.looks + 1
        return self.left


def plan_of_nothing() -> Plan:
    return plan_floor(replace(read_request(bench_rooms()["angled 7"]), effort_iterations=1))


def test_what_writing_a_plan_took_is_kept_in_reserve() -> None:
    clock = Seconds(seconds=10, step=0)
    effort = Effort(None, None, clock)

    def slow() -> Plan:
        clock.left -= 4
        return plan_of_nothing()

    assert not effort.spent()
    effort.writing(slow)
    assert effort.spent()  # six seconds are left; four are not enough for the offcuts as well


def test_the_work_ends_when_no_seconds_are_left() -> None:
    clock = Seconds(seconds=2, step=0.01)
    plan_floor(read_request(bench_rooms()["angled 7"]), left=clock)
    assert 0 < clock.looks < 300


def test_a_bound_met_at_once_still_leaves_a_floor_without_joints_above_each_other() -> None:
    """Every other row of half planks meets the bound, and is what nobody lays."""
    square = request([[0, 0], [120, 0], [120, 120], [0, 120]], effort_iterations=None)
    plan = plan_floor(read_request(square), left=lambda: 1000.0)
    assert plan.status == "proven"
    assert plan.totals.look.h_joints == 0
