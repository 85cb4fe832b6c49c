"""The rules of laying: two plans either side of each limit, no more than 0.02 in apart from it.

All on the floor worked out by hand in `tests/layout/three_rows.py`, where what the plan has is
known: end pieces of 12 in and more, joints 16 in and more apart, 0.125 in of saw between two
pieces of one plank. The judge takes lengths within 0.01 in as one, so a plan breaks a rule from
there on.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import pytest

from layout.judge.check import check_plan
from layout.values.plan import Piece, Plan
from layout.values.request import PlanRequest
from tests import rooms
from tests.layout.three_rows import GAP, KERF, LENGTH, WIDTH, piece, plan, request, with_piece

Floor = tuple[PlanRequest, Plan]


def ruled(**rules: Any) -> Floor:
    """Return the floor by other rules."""
    return request(rules=rules), plan()


def least_end(inches: float) -> Floor:
    """The shortest end piece, 2-3, is 12 in."""
    return ruled(min_end_piece=inches)


def least_offset(inches: float) -> Floor:
    """The closest joints are 16 in apart: 24 and 40, 72 and 88 of rows 1 and 2."""
    return ruled(min_joint_offset=inches)


def kerf(inches: float) -> Floor:
    """Pieces 1-3 and 3-1 lie 0.125 in apart in plank 3: 28 and 28.125."""
    return ruled(saw_kerf=inches)


def last_row(wide: float) -> Plan:
    """Return the plan with a last row of another width."""
    y0 = GAP + 2 * WIDTH
    pieces = [
        replace(each, outline=tuple((x, min(y, y0 + wide)) for x, y in each.outline))
        for each in plan().pieces
    ]
    return plan(pieces=tuple(pieces))


def a_room(deep: float, **rules: Any) -> PlanRequest:
    """Return the request of the floor in a room of another depth."""
    return request(outline=[[0, 0], [100.5, 0], [100.5, deep], [0, deep]], rules=rules)


def least_row(inches: float) -> Floor:
    """The last row is 5 in wide: the room is 2 in less deep."""
    return a_room(19.5, min_row_width=inches), last_row(5)


def balance(rest: float) -> Floor:
    """A full first row is right where half a board, 3.5 in, or more is left for the last one."""
    return a_room(14.5 + rest), last_row(rest)


def doorway(right: float) -> Floor:
    """The joint of row 3 at 68.125 in the room may not stand in the doorway."""
    door = [[60, 14], [right, 14], [right, 22], [60, 22]]
    return request(zone={"no_joints": [door]}), plan()


def half_step(second: float) -> Floor:
    """Rows begin with 24, with ``second`` and with 24 in: a step of half a board is 24."""
    rows = [(24.0, 48.0, 28.0), (second, 48.0, 52.0 - second), (24.0, 48.0, 28.0)]
    return request(rules={"stagger": "half"}), plan(pieces=laid_in(rows))


def laid_in(rows: Sequence[Sequence[float]]) -> tuple[Piece, ...]:
    """Return pieces of these lengths by row, each of a plank of its own."""
    pieces = []
    for row, lengths in enumerate(rows, start=1):
        left = 0.0
        for place, length in enumerate(lengths, start=1):
            at = LENGTH - length if place == 1 else 0.0
            pieces.append(piece(row, place, 10 * row + place, left, length, at))
            left += length
    return tuple(pieces)


def wall_stands_in(least: float) -> Floor:
    """Where its wall stands in by 1/4 in, end piece 2-3 keeps 11.75 of its 12 in."""
    return ruled(wall_error=0.25, min_end_piece=least)


def wall_stands_out(off: float) -> Floor:
    """The last row, 5 of 7 in wide, has 2 in of its planks to spare where its wall stands out."""
    return a_room(19.5, wall_error=off), last_row(5)


def rack(most: float) -> Floor:
    """One offcut waits: the end of row 1 for the start of row 3."""
    return ruled(max_rack=int(most))


def turned(degrees: float) -> Floor:
    """A direction is one to the millionth of a degree."""
    return request(), plan(direction_deg=degrees)


Make = Callable[[float], Floor]

# What is made of a figure, the figure with which the rule holds, the one with which it is broken,
# the rule, where: everywhere if empty.
LIMITS: dict[str, tuple[Make, float, float, str, str]] = {
    "an end piece as long as the rule": (least_end, 12.0, 12.02, "min_end_piece", "piece 2-3"),
    "an end piece longer than the rule": (least_end, 11.98, 12.02, "min_end_piece", "piece 2-3"),
    "joints as far apart as the rule": (least_offset, 16.0, 16.02, "min_joint_offset", ""),
    "joints farther apart than the rule": (least_offset, 15.98, 16.02, "min_joint_offset", ""),
    "pieces as far apart as the saw takes": (kerf, 0.125, 0.145, "kerf", "plank 3"),
    "pieces farther apart than the saw takes": (kerf, 0.105, 0.145, "kerf", "plank 3"),
    "a row as wide as the rule": (least_row, 5.0, 5.02, "min_row_width", "row 3"),
    "a row wider than the rule": (least_row, 4.98, 5.02, "min_row_width", "row 3"),
    "half a board left across": (balance, 3.52, 3.48, "balance", "row 1"),
    "a joint beside a doorway": (doorway, 68.115, 68.145, "no_joints", "piece 3-3"),
    "a step of half a board": (half_step, 48 - 0.01, 48 - 0.03, "stagger", ""),
    "an end piece whose wall stands in": (wall_stands_in, 11.75, 11.77, "wall_error", "piece 2-3"),
    "a plank whose wall stands out": (wall_stands_out, 2.0, 2.02, "wall_error", "piece 3-1"),
    "offcuts that wait": (rack, 1, 0, "max_rack", "rack"),
    "another direction": (turned, 0.0000005, 0.000002, "direction", "plan"),
}


def is_broken(floor: Floor, rule: str, where: str) -> bool:
    """Whether a rule is broken there."""
    faults = check_plan(*floor)
    return any(fault.rule == rule and where in ("", fault.where) for fault in faults)


@pytest.mark.parametrize("name", LIMITS)
def test_a_rule_of_laying_breaks_just_beyond_its_limit(name: str) -> None:
    make, keeps, breaks, rule, where = LIMITS[name]
    assert not is_broken(make(keeps), rule, where)
    assert is_broken(make(breaks), rule, where)


def moved(there: Piece, dx: float, dy: float) -> Piece:
    """Return a piece and its plank a little farther on."""
    x, y = there.origin
    outline = tuple((a + dx, b + dy) for a, b in there.outline)
    return replace(there, outline=outline, origin=(x + dx, y + dy))


def lifted(inches: float) -> Floor:
    """Piece 2-2 stands off its row line."""
    return request(), with_piece(plan(), moved(plan().pieces[4], 0, inches))


def shorter_start(inches: float) -> Floor:
    """The cut edge of starter 2-1 stands off the wall; an edge inside the floor is none."""
    first = plan().pieces[3]
    outline = tuple((max(x, GAP + inches), y) for x, y in first.outline)
    return request(), with_piece(plan(), replace(first, outline=outline))


def past_plank(inches: float) -> Floor:
    """Ender 1-3 of 28 in begins at the left end of its plank: it reaches past it."""
    last = plan().pieces[2]
    return request(), with_piece(plan(), replace(last, origin=(last.origin[0] + inches, 0.25)))


def odd_board(inches: float) -> Floor:
    """Plank 2 is longer than the product's."""
    return request(), with_piece(plan(), replace(plan().pieces[1], size=(LENGTH + inches, WIDTH)))


def outside(area: float) -> Floor:
    """Ender 1-3 lies over the wall's gap with so much of it; half a square inch is nothing."""
    last = plan().pieces[2]
    outline = tuple((x + (area / WIDTH if x > 100 else 0), y) for x, y in last.outline)
    return request(), with_piece(plan(), replace(last, outline=outline))


def bare(area: float) -> Floor:
    """Ender 1-3 ends before the gap and leaves so much floor bare."""
    return outside(-area)


def doubled(area: float) -> Floor:
    """Piece 1-2 reaches over 1-3 with so much of it."""
    wide = plan().pieces[1]
    outline = tuple((x + (area / WIDTH if x > 72 else 0), y) for x, y in wide.outline)
    return request(), with_piece(plan(), replace(wide, outline=outline))


def moved_from_where_it_lay(inches: float) -> Floor:
    """Piece 1-1 was down before; the plan moves it."""
    laid = replace(request(), laid=(plan().pieces[0],))
    return laid, with_piece(plan(), moved(plan().pieces[0], inches, 0))


COVER: dict[str, tuple[Make, float, float, str, str]] = {
    "a piece off its row line": (lifted, 0.015, 0.035, "rows", "row 2"),
    "a cut edge off the wall": (shorter_start, 0.0, 0.02, "cut edge", "piece 2-1"),
    "a piece past its plank": (past_plank, 0.0, 0.02, "within plank", "piece 1-3"),
    "a board of the product": (odd_board, 0.009, 0.02, "size", "piece 1-2"),
    "floor outside": (outside, 0.49, 0.51, "outside", "piece 1-3"),
    "floor left bare": (bare, 0.49, 0.51, "missing", ""),
    "floor twice": (doubled, 0.49, 0.51, "overlap", ""),
    "a piece that was down": (moved_from_where_it_lay, 0.0, 0.02, "laid", "piece 1-1"),
}


@pytest.mark.parametrize("name", COVER)
def test_a_rule_of_cover_breaks_just_beyond_its_limit(name: str) -> None:
    make, keeps, breaks, rule, where = COVER[name]
    assert not is_broken(make(keeps), rule, where)
    assert is_broken(make(breaks), rule, where)


def test_the_floor_by_hand_is_what_these_limits_speak_of() -> None:
    lengths = {each.id: each.outline[1][0] - each.outline[0][0] for each in plan().pieces}
    assert min(lengths["1-1"], lengths["1-3"], lengths["2-3"], lengths["3-1"]) == 12
    assert rooms.RULES["saw_kerf"] == KERF == plan().offcuts[0].at[0] - 28
