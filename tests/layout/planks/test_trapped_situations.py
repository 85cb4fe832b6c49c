"""Situations on the floor, worked out by hand for each lock: what is trapped and how it goes in."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from itertools import chain, combinations
from typing import Any

import pytest

from layout.judge.check import check_plan
from layout.planks import installing
from layout.planks.installing import ENDS, SIDES, Flank, Situation, way_in
from layout.planner.plan_floor import plan_floor
from layout.values.material import GoesIn, Lock
from layout.values.plan import Piece, Plan
from layout.values.request import PlanRequest, read_request
from tests import rooms
from tests.conftest import ROOT

ROW, SLIDE, SHAVE, LOWER = GoesIn.ROW, GoesIn.SLIDE, GoesIn.SHAVE, GoesIn.LOWER
LOCKS = ("angle-angle", "angle-drop", "tap", "glue")
Ways = tuple[GoesIn | None, GoesIn | None, GoesIn | None, GoesIn | None]  # in the order of LOCKS
FREE: Ways = (None, None, None, None)
UNDER_LOW: Ways = (ROW, SHAVE, SLIDE, SLIDE)
UNDER_CASING: Ways = (SHAVE, SHAVE, SLIDE, SLIDE)

# Edges: 0 start wall, 1 right (rows end there), 2 far wall, 3 left (rows begin there).
NARROW = [[0, 0], [30, 0], [30, 61], [0, 61]]  # one piece a row
WIDE = [[0, 0], [150, 0], [150, 61], [0, 61]]  # three or four pieces a row
STRIP: Sequence[Sequence[float]] = [[0, 0], [30, 0], [30, 7.5], [0, 7.5]]  # one row
# A jamb sticks out of the left wall, from 18 to 24: edge 4 its far face, 5 its end, 6 its near one.
JAMB = [[0, 0], [150, 0], [150, 61], [0, 61], [0, 24], [4, 24], [4, 18], [0, 18]]

Chosen = Callable[[Plan, Piece], bool]


def last_row(plan: Plan, piece: Piece) -> bool:
    return piece.row == max(other.row for other in plan.pieces)


def after_row_one(_: Plan, piece: Piece) -> bool:
    return piece.row > 1


def ends_of_rows(plan: Plan, piece: Piece) -> bool:
    last = max(other.place for other in plan.pieces if other.row == piece.row)
    return piece.row > 1 and piece.place == last


def begins(row: int) -> Chosen:
    return lambda _, piece: (piece.row, piece.place) == (row, 1)


def in_row(row: int) -> Chosen:
    return lambda _, piece: piece.row == row


@dataclass(frozen=True)
class EdgedRoom:
    """A room, what stands at its edges, and the pieces that are trapped, with their ways in."""

    outline: Sequence[Sequence[float]]
    kinds: dict[str, str]
    ways: Ways
    chosen: Chosen = after_row_one
    changes: dict[str, Any] = field(default_factory=dict)
    down: tuple[int, ...] = ()


BOTH_WAYS = {"lay": {"control_row": 4}}
CASES = {
    "plain walls": EdgedRoom(NARROW, {}, FREE),
    "door casing at the end of rows of one piece": EdgedRoom(NARROW, {"1": "casing"}, FREE),
    "door casing where rows begin": EdgedRoom(WIDE, {"3": "casing"}, FREE),
    "door casing where rows end": EdgedRoom(
        WIDE, {"1": "casing"}, (ROW, SHAVE, None, None), ends_of_rows
    ),
    "casings on both sides of rows of one piece": EdgedRoom(
        NARROW, {"1": "casing", "3": "casing"}, UNDER_CASING
    ),
    "casings on both sides of longer rows": EdgedRoom(
        WIDE, {"1": "casing", "3": "casing"}, (SHAVE, SHAVE, None, None), ends_of_rows
    ),
    "toe kick along the last row": EdgedRoom(WIDE, {"2": "toe kick"}, UNDER_LOW, last_row),
    "radiator over the last row": EdgedRoom(WIDE, {"2": "radiator"}, UNDER_LOW, last_row),
    "last row under a cased opening": EdgedRoom(WIDE, {"2": "casing"}, UNDER_CASING, last_row),
    "radiator over the last row, casing where one-piece rows end": EdgedRoom(
        NARROW, {"2": "radiator", "1": "casing"}, UNDER_CASING, last_row
    ),
    "toe kick at the end of rows": EdgedRoom(
        WIDE, {"1": "toe kick"}, (ROW, SHAVE, None, None), ends_of_rows
    ),
    "casing along the start wall": EdgedRoom(WIDE, {"0": "casing"}, FREE),
    "slider along the last row": EdgedRoom(WIDE, {"2": "slider", "1": "slider"}, FREE),
    "one row between two radiators": EdgedRoom(
        STRIP, {"0": "radiator", "2": "radiator"}, (SLIDE, SLIDE, SLIDE, SLIDE), in_row(1)
    ),
    "notched over a jamb that overhangs it at two sides": EdgedRoom(
        JAMB, {"4": "casing", "5": "casing"}, (SHAVE, SHAVE, None, None), begins(4)
    ),
    "notched under a jamb that overhangs it at two sides": EdgedRoom(
        JAMB, {"5": "casing", "6": "casing"}, UNDER_CASING, begins(3)
    ),
    "toe kick at the start wall, rows laid backward to it": EdgedRoom(
        WIDE, {"0": "toe kick"}, UNDER_LOW, in_row(1), BOTH_WAYS
    ),
    "casings on both sides, rows both ways": EdgedRoom(
        NARROW,
        {"1": "casing", "3": "casing"},
        UNDER_CASING,
        lambda _, piece: piece.row != 4,
        BOTH_WAYS,
    ),
    "a row between rows that are down": EdgedRoom(
        WIDE, {}, (LOWER, LOWER, LOWER, LOWER), in_row(3), {}, (1, 2, 4)
    ),
    "the last row between the floor that is down and a wall": EdgedRoom(
        WIDE, {}, FREE, last_row, {}, (1, 2, 3, 4, 5, 6, 7, 8)
    ),
}


def request_of(case: EdgedRoom, lock: str | None) -> PlanRequest:
    product = {**rooms.PLANK, "lock": lock, "backward": True}
    form = rooms.request(
        case.outline,
        zone={"edges": {index: {"kind": kind} for index, kind in case.kinds.items()}},
        product=product,
        rules={"min_end_piece": 16, "min_row_width": 0, "balance": False},
        effort_iterations=1,
        **case.changes,
    )
    return read_request(form)


@cache
def planned(name: str, lock: str | None) -> Plan:
    """Return the plan of a case, judged; where rows are down, of what is left around them."""
    case = CASES[name]
    request = request_of(case, lock)
    plan = plan_floor(request)
    if case.down:
        laid = tuple(piece for piece in plan.pieces if piece.row in case.down)
        request = replace(request, laid=laid)
        plan = plan_floor(request)
    assert check_plan(request, plan) == ()
    return plan


@pytest.mark.parametrize("lock", LOCKS)
@pytest.mark.parametrize("name", CASES)
def test_what_is_trapped_and_how_it_goes_in(name: str, lock: str) -> None:
    case = CASES[name]
    way, plan = case.ways[LOCKS.index(lock)], planned(name, lock)
    new = [piece for piece in plan.pieces if piece.row not in case.down]
    expected = {piece.id: way if case.chosen(plan, piece) else None for piece in new}
    assert {piece.id: piece.goes_in for piece in new} == expected
    assert all(piece.trapped == (piece.goes_in is not None) for piece in new)


@pytest.mark.parametrize("name", CASES)
def test_without_a_lock_the_marks_are_those_of_angle_drop_and_the_maker_decides(name: str) -> None:
    unknown, strictest = (planned(name, lock) for lock in (None, "angle-drop"))
    assert [p.trapped for p in unknown.pieces] == [p.trapped for p in strictest.pieces]
    assert {p.goes_in for p in unknown.pieces if p.trapped} <= {GoesIn.MAKER}


TABLE = installing.__doc__ or ""
N, F, B, E = (frozenset({flank}) for flank in Flank)
ON_ROW = {"down": N, "run_down": N}
LINES = {  # the lines of the table, worked into situations
    "nothing": [Situation(**ON_ROW)],
    "  under something at one side or its ends": [
        Situation(over=over, run_over=over) for over in (N, F, B, E, B | E)
    ],
    "  under something at near and far": [Situation(over=N | F, run_over=N | F)],
    "open side under a toe kick or radiator": [Situation(over=F, run_over=F, **ON_ROW)],
    "open side under a casing": [Situation(over=F, run_over=F, run_cased=F, **ON_ROW)],
    "  the other one not joined to a piece": [
        Situation(over=end, run_over=end, **ON_ROW) for end in (B, E)
    ],
    "  the other one (or this one) joined": [
        Situation(over=end, run_over=end, down=N | B, run_down=N) for end in (B, E)
    ],
    "both ends under something": [Situation(over=B | E, run_over=B | E, **ON_ROW)],
    "joined side under something (a notch)": [Situation(over=N, run_over=N, **ON_ROW)],
    "pieces down at near and far, or both ends": [
        Situation(down=N | F, run_down=N | F),
        Situation(down=N | B | E, run_down=N),
    ],
}
WORDS = {"free": None, "row": ROW, "slide": SLIDE, "shave": SHAVE, "lower": LOWER}


@pytest.mark.parametrize("name", LINES)
def test_the_lines_of_the_table_hold(name: str) -> None:
    (line,) = (line for line in TABLE.splitlines() if line.startswith(f"    {name} "))
    angle, drop, flat = line.removeprefix(f"    {name}").replace("*)", "").split()
    for lock, word in zip(LOCKS, (angle, drop, flat, flat), strict=True):
        assert {way_in(Lock(lock), it) for it in LINES[name]} == {WORDS[word]}


ALONE = (  # what keeps a row from being tilted as one
    Situation(over=F, run_over=F | N, **ON_ROW),
    Situation(over=F, run_over=F, run_cased=F, **ON_ROW),
    Situation(over=F, run_over=F | E, **ON_ROW),
    Situation(over=E, run_over=B | E, down=N | B, run_down=N),
    Situation(over=E, run_over=E | F, down=N | B, run_down=N),
)


@pytest.mark.parametrize("it", ALONE)
def test_where_a_row_can_not_be_tilted_as_one_its_lip_is_shaved(it: Situation) -> None:
    assert way_in(Lock.ANGLE_ANGLE, it) is SHAVE


def test_the_page_of_the_core_holds_the_same_table() -> None:
    page = (ROOT / "layout" / "README.md").read_text()
    table = TABLE[TABLE.index("    what is in the way") : TABLE.index("Toe kick and radiator")]
    assert table.strip() in page


FLANKS = tuple(Flank)
SETS = [frozenset(s) for s in chain.from_iterable(combinations(FLANKS, n) for n in range(5))]


def test_what_any_lock_traps_angle_drop_traps() -> None:
    for over in SETS:
        for down in SETS:
            it = Situation(over=over, down=down, run_over=over, run_down=down & SIDES)
            if way_in(Lock.ANGLE_DROP, it) is None:
                assert not any(way_in(lock, it) for lock in Lock)


@pytest.mark.parametrize("over", [side for side in SETS if not side >= SIDES])
def test_a_row_that_joins_no_row_lies_free_unless_both_sides_are_overhung(
    over: frozenset[Flank],
) -> None:
    it = Situation(over=over, run_over=over, down=frozenset({Flank.BEGIN}))
    assert {way_in(lock, it) for lock in Lock} == {None}


@pytest.mark.parametrize("between", [SIDES, ENDS])
def test_a_piece_between_pieces_that_are_down_is_let_down(between: frozenset[Flank]) -> None:
    it = Situation(down=between, run_down=between & SIDES)
    assert {way_in(lock, it) for lock in Lock} == {LOWER}
