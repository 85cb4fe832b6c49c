"""What overhangs a piece, found at any edge and whichever way the floor is laid."""

from __future__ import annotations

from typing import Any

import pytest

from layout.judge.check import check_plan
from layout.planner.plan_floor import plan_floor
from layout.values.plan import Plan
from layout.values.request import read_request
from tests import rooms

# A passage 40 wide and 61 across, between edge 1 (right), 2 (far), 3 (left) and 0 (start wall).
PASSAGE = [[0, 0], [40, 0], [40, 61], [0, 61]]


def plan(
    kinds: dict[str, str], lock: str = "angle-angle", outline: Any = PASSAGE, **changes: Any
) -> Plan:
    edges = {index: {"kind": kind} for index, kind in kinds.items()}
    product = {**rooms.PLANK, "lock": lock}
    form = rooms.request(outline, zone={"edges": edges}, product=product, **changes)
    request = read_request({**form, "effort_iterations": 1})
    plan = plan_floor(request)
    assert check_plan(request, plan) == ()
    return plan


def trapped(of: Plan) -> set[str]:
    return {piece.id for piece in of.pieces if piece.trapped}


def trapped_rows(of: Plan) -> set[int]:
    return {piece.row for piece in of.pieces if piece.trapped}


def test_a_casing_on_one_side_traps_no_piece_that_is_alone_in_its_row() -> None:
    laid = plan({"1": "casing"})
    alone = {p.id for p in laid.pieces if sum(q.row == p.row for q in laid.pieces) == 1}
    assert alone
    assert not trapped(laid) & alone


def test_starting_at_the_toe_kick_frees_the_row_under_it() -> None:
    assert trapped_rows(plan({"2": "toe kick"}, lay={"start": "high"})) == set()


def test_a_toe_kick_at_one_end_and_a_casing_at_the_other_trap_as_two_casings_do() -> None:
    one, two = plan({"1": "toe kick", "3": "casing"}), plan({"1": "casing", "3": "casing"})
    assert trapped(one) == trapped(two)


@pytest.mark.parametrize("kind", ["wall", "transition", "stair nose", "cabinet", "slider"])
def test_other_edges_overhang_nothing(kind: str) -> None:
    assert trapped_rows(plan({"1": kind, "2": kind, "3": kind})) == set()


@pytest.mark.parametrize(("overlap", "rows"), [(0.4, set()), (0.6, {9})])
def test_half_an_inch_under_something_counts(overlap: float, rows: set[int]) -> None:
    outline = [[0, 0], [40, 0], [40, 61], [39.75 - overlap, 61], [0, 61]]
    assert trapped_rows(plan({"2": "casing"}, "tap", outline)) == rows


def test_a_toe_kick_hides_a_wider_gap_and_still_overhangs() -> None:
    edges = {"2": {"kind": "toe kick", "max_gap": 2}}
    form = rooms.request([[0, 0], [150, 0], [150, 58], [0, 58]], zone={"edges": edges})
    laid = plan_floor(read_request({**form, "effort_iterations": 20}))
    assert trapped_rows(laid) == {max(piece.row for piece in laid.pieces)}


def test_a_room_in_a_mirror_traps_the_same_pieces() -> None:
    kinds = {"1": "casing", "2": "radiator"}
    mirrored = [[0, 0], [0, 61], [-40, 61], [-40, 0]]  # edge 0 right, 1 far, 2 left, 3 start wall
    there = plan({"2": "casing", "1": "radiator"}, outline=mirrored, lay={"first_end": "right"})
    assert trapped(there) == trapped(plan(kinds)) != set()


def test_a_room_turned_round_traps_the_same_pieces() -> None:
    kinds = {"1": "casing", "2": "radiator"}
    turned = [[-y, x] for x, y in PASSAGE]
    there = plan(kinds, outline=turned, rules={"direction_deg": 90})
    assert trapped(there) == trapped(plan(kinds)) != set()


def test_millimeters_trap_as_inches_do() -> None:
    outline = [[0, 0], [3000, 0], [3000, 1550], [0, 1550]]
    product = {"length": 1200, "width": 180, "per_carton": 8, "lock": "tap"}
    form = rooms.request(
        outline,
        unit="mm",
        zone={"edges": {"2": {"kind": "radiator"}}},
        product=product,
        rules=rooms.RULES_MM,
    )
    laid = plan_floor(read_request({**form, "effort_iterations": 1}))
    assert trapped_rows(laid) == {max(piece.row for piece in laid.pieces)}
