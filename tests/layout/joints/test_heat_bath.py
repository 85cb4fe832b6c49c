"""Heat bath: energies against a plain sum, the coldest draw, and a floor that only it finishes."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from layout.joints.heat_bath import drawn, energies, temperatures
from layout.planner.plan_floor import plan_floor
from layout.values.request import read_request
from tests.bench.hard_rooms import hard_rooms

COUNTS = np.array([3.0, 1.0, 4.0, 1.0, 5.0])


def plain(over: float, starter: int, room: int) -> float:
    """Return the energy of a choice, threshold by threshold."""
    lacks = [over - n - (t >= starter) - (t < room) for t, n in enumerate(COUNTS)]
    return float(sum(max(0.0, lack) ** 2 for lack in lacks))


@pytest.mark.parametrize("over", [2.0, 5.0])
def test_energies_are_the_squares_of_what_lacks(over: float) -> None:
    pairs = [(s, r) for s in range(6) for r in range(6)]
    starters, rooms = (np.array(column) for column in zip(*pairs, strict=True))
    energy = energies(COUNTS, np.full(len(pairs), over), starters, rooms)
    assert energy.tolist() == [plain(over, s, r) for s, r in pairs]


def test_choices_of_one_piece_more_are_aimed_at_one_more() -> None:
    energy = energies(COUNTS, np.array([2.0, 3.0]), np.array([2, 2]), np.array([2, 2]))
    assert energy.tolist() == [plain(2.0, 2, 2), plain(3.0, 2, 2)]


def test_a_cold_draw_takes_the_least_energy() -> None:
    chance = np.random.default_rng(1)
    assert {drawn(np.array([5.0, 1.0, 9.0]), 0.01, chance) for _ in range(50)} == {1}


def test_temperatures_fall() -> None:
    for bath in (0, 1):
        falling = temperatures(bath)
        assert (np.diff(falling) < 0).all()


def test_rows_just_over_four_planks_come_to_their_bound() -> None:
    form = {**hard_rooms()["just over 7"], "effort_iterations": 700}
    plan = plan_floor(replace(read_request(form), seed=0))
    assert (plan.status, plan.totals.planks) == ("proven", 52)
