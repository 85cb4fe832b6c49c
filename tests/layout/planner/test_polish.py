"""The second pass: looks, rack and cuts at the same planks."""

from __future__ import annotations

from random import Random

from layout.planner.looks import Looks
from layout.planner.polish import Allowance, Polish
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


def test_joints_lined_up_two_rows_on_are_h_joints() -> None:
    assert Looks([[20, 68], [40], [20.5, 90]], 48, 1.0).total == 1


def test_a_step_that_comes_again_twice_is_a_staircase() -> None:
    assert Looks([[10], [20], [30], [40]], 48, 1.0).total == 1


def test_a_step_that_comes_again_once_is_none() -> None:
    assert Looks([[10], [20], [30], [50]], 48, 1.0).total == 0


def test_a_row_put_right_is_counted_again() -> None:
    looks = Looks([[10], [20], [30], [40]], 48, 1.0)
    looks.replace(2, [34])
    assert looks.total == 0


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
    polish = Polish(one, Random(3), Allowance(planks=3))
    polish.improve(150, lambda: False)
    assert one.search.planks() <= one.search.score.planks + 3
