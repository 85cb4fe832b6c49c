"""The second pass: looks, rack and cuts at the same planks."""

from __future__ import annotations

from random import Random

from layout.planner.polish import PlanksToSpend, Polish
from layout.planner.trials import Trial, begin
from layout.rows.frame import Frame
from layout.rows.ground import Ground
from layout.values.request import read_request
from tests import rooms


def trial() -> Trial:
    request = read_request(rooms.ell())
    trial = begin(Ground.at_gaps(request, Frame(direction_deg=0)), [7.0], Random(3))
    for _ in range(4):
        trial.search.improve(10, lambda: False)
    return trial


def test_polish_makes_nothing_worse() -> None:
    polish = Polish(trial(), Random(3))
    before = polish.cost
    polish.improve(150, lambda: False)
    assert polish.cost < before


def test_polish_spends_no_plank() -> None:
    one = trial()
    polish = Polish(one, Random(3))
    polish.improve(150, lambda: False)
    assert one.search.planks() == one.search.score.planks


def test_a_spare_plank_may_be_spent_on_looks() -> None:
    one = trial()
    polish = Polish(one, Random(3), PlanksToSpend(planks=3))
    polish.improve(150, lambda: False)
    assert one.search.planks() <= one.search.score.planks + 3
