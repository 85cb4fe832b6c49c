"""The wall at which a floor ends, found elsewhere than the plan has it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from layout.judge.check import check_plan
from layout.planner.plan_floor import plan_floor
from layout.resume.far_wall import far_wall_moved, last_row_width
from layout.resume.remaining import go_on, pieces_down
from layout.values.errors import InputError
from layout.values.outline import Zone
from layout.values.plan import Plan
from tests.layout.resume.test_remaining import den, first_plan


def test_the_last_row_is_as_wide_as_its_widest_piece() -> None:
    """206 in between the gaps are 28 boards of 7 in and 10 in: outer rows of 5 in each."""
    assert last_row_width(first_plan()) == pytest.approx(5)


@pytest.mark.parametrize(("by", "far"), [(1.0, 207.5), (-0.75, 205.75), (0.0, 206.5)])
def test_the_far_wall_moves_and_nothing_else(by: float, far: float) -> None:
    moved = far_wall_moved(den().zone, first_plan(), by)
    assert sorted(moved.outline) == sorted([(0, 0), (150, 0), (150, far), (0, far)])


def turned() -> Plan:
    """The plan laid the other way: from the far wall to the near one."""
    plan = first_plan()
    return replace(plan, pieces=plan.pieces[::-1])


def test_laid_the_other_way_it_is_the_near_wall_that_moves() -> None:
    moved = far_wall_moved(den().zone, turned(), 1.0)
    assert sorted(moved.outline) == sorted([(0, -1), (150, -1), (150, 206.5), (0, 206.5)])


def test_a_floor_that_ends_in_a_point_has_to_be_measured_again() -> None:
    zone = Zone(outline=((0, 0), (150, 0), (150, 190), (75, 206.5), (0, 190)))
    with pytest.raises(InputError, match="a floor that ends at a wall along its rows"):
        far_wall_moved(zone, first_plan(), 1.0)


@pytest.mark.parametrize("by", [-0.75, 1.25])
def test_what_is_left_is_planned_to_the_wall_as_it_is(by: float) -> None:
    plan, ids = first_plan(), pieces_down(first_plan(), rows=12)
    request = replace(den(), zone=far_wall_moved(den().zone, plan, by))
    again = go_on(request, plan, laid_ids=ids, planks_left=None)
    rest = plan_floor(again)
    assert check_plan(again, rest) == ()
    assert last_row_width(rest) == pytest.approx(5 + by)
    assert {p.id: p.outline for p in plan.pieces if p.id in ids} == {
        p.id: p.outline for p in rest.pieces if p.id in ids
    }
