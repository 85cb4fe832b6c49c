"""What the eye sees: H-joints and staircases, counted again as rows change."""

from __future__ import annotations

from layout.planner.looks import Looks


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


def test_the_rows_of_an_h_joint_are_named_with_those_it_may_reach() -> None:
    assert Looks([[10], [30], [10], [40], [25]], 48, 1.0).faulty_rows() == [0, 1, 2, 3]


def test_rows_without_a_fault_name_none() -> None:
    assert Looks([[10], [20], [30], [50]], 48, 1.0).faulty_rows() == []
