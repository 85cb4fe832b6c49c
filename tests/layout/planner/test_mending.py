"""Mending looks: H-joints and staircases go, planks stay within what is allowed."""

from __future__ import annotations

from random import Random

import pytest

from layout.planner.mending import cut_less, mend
from layout.planner.polish import PlanksToSpend, Polish
from layout.planner.trials import begin
from layout.rows.frame import Frame
from layout.rows.ground import Ground
from layout.values.request import read_request
from tests import rooms


def polish(planks: int) -> Polish:
    """Return the picks of a search before any polish, so many planks to spend."""
    request = read_request(rooms.ell())
    trial = begin(Ground.at_gaps(request, Frame(direction_deg=0)), [7.0], Random(3))
    return Polish(trial, Random(3), PlanksToSpend(planks=planks), spending=True)


def test_mending_leaves_no_h_joint_and_no_staircase() -> None:
    mended = polish(3)
    assert mended.looks.total > 0
    mend(mended, Random(3), 200)
    assert mended.looks.total == 0


@pytest.mark.parametrize("planks", [0, 2])
def test_mending_takes_no_more_planks_than_allowed(planks: int) -> None:
    mended = polish(planks)
    before = mended.planks()
    mend(mended, Random(3), 200)
    assert mended.planks() <= before + planks


def test_mending_breaks_no_rule() -> None:
    mended = polish(3)
    runs = range(len(mended.picks))
    before = mended.faults_of(runs)
    mend(mended, Random(3), 200)
    assert mended.faults_of(runs) <= before


def test_fewer_ends_are_cut_without_worse_looks() -> None:
    mended = polish(6)
    mend(mended, Random(3), 200)
    looks, ends = mended.looks.total, sum(map(mended.cut_ends, mended.picks))
    mended.refresh()
    cut_less(mended, Random(3))
    assert mended.looks.total <= looks
    assert sum(map(mended.cut_ends, mended.picks)) < ends
