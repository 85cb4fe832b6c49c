"""Pieces that can't be tilted in: casings at both ends, what overhangs the far side."""

from __future__ import annotations

from typing import Any

import pytest

from layout.judge import check_plan
from layout.plan import Plan
from layout.planner import plan_floor
from layout.request import read_request
from tests import rooms

# A passage 40 wide and 61 across, between edge 1 (right), 2 (far), 3 (left) and 0 (start wall).
PASSAGE = [[0, 0], [40, 0], [40, 61], [0, 61]]


def plan(kinds: dict[str, str], lock: str = "angle-angle", **changes: Any) -> Plan:
    edges = {index: {"kind": kind} for index, kind in kinds.items()}
    product = {**rooms.PLANK, "lock": lock}
    form = rooms.request(PASSAGE, zone={"edges": edges}, product=product, **changes)
    request = read_request({**form, "effort_iterations": 5})
    found = plan_floor(request)
    assert check_plan(request, found) == ()
    return found


def trapped_rows(of: Plan) -> set[int]:
    return {piece.row for piece in of.pieces if piece.trapped}


def last_row(of: Plan) -> int:
    return max(piece.row for piece in of.pieces)


def test_plain_walls_trap_nothing() -> None:
    assert trapped_rows(plan({})) == set()


def test_a_casing_on_one_side_traps_nothing() -> None:
    assert trapped_rows(plan({"1": "casing"})) == set()


def test_casings_on_both_sides_trap_single_pieces_but_those_of_row_one() -> None:
    found = plan({"1": "casing", "3": "casing"})
    whole = {p.row for p in found.pieces if sum(q.row == p.row for q in found.pieces) == 1}
    assert trapped_rows(found) == whole - {1}


def test_a_toe_kick_at_the_far_side_traps_the_last_row() -> None:
    found = plan({"2": "toe kick"})
    assert trapped_rows(found) == {last_row(found)}


def test_a_cased_opening_along_the_last_row_traps_it() -> None:
    found = plan({"2": "casing"})
    assert trapped_rows(found) == {last_row(found)}


def test_a_toe_kick_at_the_start_wall_traps_nothing() -> None:
    assert trapped_rows(plan({"0": "toe kick"})) == set()


def test_starting_at_the_toe_kick_frees_the_row_under_it() -> None:
    assert trapped_rows(plan({"2": "toe kick"}, lay={"start": "high"})) == set()


def test_a_toe_kick_at_one_end_and_a_casing_at_the_other_trap_as_two_casings_do() -> None:
    one, two = plan({"1": "toe kick", "3": "casing"}), plan({"1": "casing", "3": "casing"})
    assert trapped_rows(one) == trapped_rows(two)


@pytest.mark.parametrize("kind", ["wall", "transition", "stair nose", "cabinet"])
def test_other_edges_overhang_nothing(kind: str) -> None:
    assert trapped_rows(plan({"1": kind, "2": kind, "3": kind})) == set()


@pytest.mark.parametrize("lock", ["angle-angle", "angle-drop", "tap", "glue"])
def test_every_lock_gets_the_same_marks_and_its_own_way_in(lock: str) -> None:
    found = plan({"2": "toe kick"}, lock)
    assert trapped_rows(found) == {last_row(found)}
