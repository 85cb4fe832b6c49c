"""Where rules fight the least gives way, it locks, it is said once, and the advice holds."""

from __future__ import annotations

import pytest

from tests.sweeps.fighting.fights import Fought, fight, random_rooms, ten_rooms


def assert_sensible(fought: Fought) -> None:
    assert fought.faults == ()
    assert fought.unlocked == []
    assert fought.said_twice == []
    assert fought.stubborn == []


@pytest.mark.parametrize("name", ten_rooms())
def test_a_room_whose_rules_fight_comes_out_sensible_with_advice_that_holds(name: str) -> None:
    fought = fight(name, ten_rooms()[name])
    assert fought.plan.warnings
    assert_sensible(fought)


def test_rooms_drawn_from_a_seed_come_out_sensible() -> None:
    for name, form in random_rooms(3, seed=7):
        assert_sensible(fight(name, form))


def test_end_pieces_give_way_by_the_least_that_keeps_joints_apart() -> None:
    # A run of 59.5 in whose first piece is 21.75 to 37.75 in long: joints 16 in apart, no more.
    plan = fight("hall", ten_rooms()["a hall with long ends"]).plan
    assert {warning.rule for warning in plan.warnings} == {"min_end_piece"}
    assert min(warning.value for warning in plan.warnings) == pytest.approx(21.75, abs=0.26)
    assert (plan.totals.look.smallest_offset or 0) >= 16 - 1e-3


def test_only_the_corner_that_can_t_keep_a_rule_breaks_it() -> None:
    plan = fight("ell", ten_rooms()["a narrow corner"]).plan
    broken = {warning.where for warning in plan.warnings}
    assert "row 2" not in broken
    assert broken


def test_shorter_end_pieces_are_all_that_a_hall_with_loose_walls_gives_up() -> None:
    plan = fight("hall", ten_rooms()["and walls that stand off"]).plan
    (ease,) = plan.relax
    assert (ease.rule, ease.clean) == ("min_end_piece", True)
    assert {warning.rule for warning in plan.warnings} == {"min_end_piece", "wall_error"}
