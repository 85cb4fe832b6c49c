"""Heat baths over chains: energies against a plain sum, and floors that whole chains lay."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from random import Random

import numpy as np
import pytest
from shapely.geometry import Polygon, box

from layout.joints.chain_bath import (
    ChainBath,
    chain_phases,
    energies,
    fewer_planks,
    makes_chains,
)
from layout.joints.choices import Pick, Site, Terms
from layout.judge.check import check_plan
from layout.planner.plan_floor import plan_floor
from layout.rows.rows import Floor, floor_of
from layout.values.material import Board
from layout.values.request import read_request
from tests.bench.hard_rooms import hard_rooms

COUNTS = np.array([3.0, 1.0, 4.0, 1.0, 5.0])
TERMS = Terms(length=48, kerf=0, least_end=8, least_offset=8)
BOARD = Board(length=48, width=7, per_carton=10)
# Seven rows of two planks and 6 in: each begins with what another leaves, 6 in shorter, from 46 in
# down to 10. Six of seven starters are leftovers: 7 x 3 pieces less 6 are 15 planks, and the rows
# in the order 1st, 3rd, 5th, 7th, 2nd, 4th, 6th of the chain have their joints 12 in apart.
ROWS, PLANKS = 7, 15


def rows(across: float, count: int) -> tuple[Floor, list[Site]]:
    floor = floor_of(box(0, 0, across, 7 * count), BOARD, 7)
    return floor, [Site(run=run) for run in floor.runs]


def bath(across: float, count: int) -> ChainBath:
    return ChainBath(*rows(across, count), TERMS, Random(0))


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


def test_places_lie_on_the_chains_of_a_run() -> None:
    phases = chain_phases(rows(102, 1)[1][0], TERMS)
    assert {(46 - 6 * link) % 48 for link in range(7)} <= set(phases.tolist())
    assert all(phase % 2 == 0 for phase in phases)


def test_a_whole_chain_lays_seven_rows_with_one_plank_more_than_their_boards() -> None:
    picks = fewer_planks(bath(102, ROWS), PLANKS, PLANKS + 1, lambda: False)
    assert picks is not None
    assert sorted(starter for starter, _ in picks)[-1] == pytest.approx(46)
    assert planks_of(picks) == PLANKS
    assert all(8 <= abs(a[0] - b[0]) <= 40 for a, b in pairwise(picks))


def planks_of(picks: list[Pick]) -> int:
    """Return the planks of rows of 102 in, the longest starters given the last room that holds."""
    rooms = sorted(48 - ender for _, ender in picks)
    reused = 0
    for starter in sorted((starter for starter, _ in picks), reverse=True):
        room = next((room for room in rooms if room >= starter - 1e-6), None)
        if room is not None:
            rooms.remove(room)
            reused += 1
    return sum(2 + round((102 - s - e) / 48) for s, e in picks) - reused


def test_nothing_comes_of_baths_where_no_picks_take_fewer_planks() -> None:
    assert fewer_planks(bath(102, ROWS), PLANKS, PLANKS, lambda: False) is None


def test_baths_end_at_the_stop() -> None:
    asks: list[None] = []

    def third() -> bool:
        asks.append(None)
        return len(asks) > 3

    assert fewer_planks(bath(102, ROWS), PLANKS - 1, PLANKS + 9, third) is None
    assert len(asks) <= 6


def test_rows_of_one_length_make_chains_and_others_do_not() -> None:
    assert makes_chains(rows(102, 3)[1])
    assert not makes_chains([*rows(102, 2)[1], *rows(110, 2)[1]])
    slanted = floor_of(Polygon([(0, 0), (102, 0), (109, 7), (0, 7)]), BOARD, 7)
    assert not makes_chains([Site(run=run) for run in slanted.runs])
    assert not makes_chains([replace(site, begun=True) for site in rows(102, 3)[1]])


# The search alone ended with a plank more in each, however long it went on.
@pytest.mark.parametrize(
    ("name", "planks"), [("just over 1", 56), ("just over 7", 52), ("just over 8", 36)]
)
def test_rows_just_over_whole_planks_come_to_their_bound(name: str, planks: int) -> None:
    request = read_request({**hard_rooms()[name], "effort_iterations": 100})
    plan = plan_floor(request)
    assert (plan.status, plan.totals.planks) == ("proven", planks)
    assert check_plan(request, plan) == ()
