"""Several widths in one carton: one width a row, used about as fast as the cartons bring them."""

from __future__ import annotations

from collections import Counter
from random import Random
from typing import Any

import pytest
from shapely.geometry import box

from layout.judge.check import check_plan
from layout.planner.plan_floor import plan_floor
from layout.rows.widths import narrowest_of, thrice_running, width_orders
from layout.values.goods.piles import size_piles
from layout.values.material import Board, Flooring
from layout.values.plan import Plan
from layout.values.request import read_request
from tests import rooms

CARTON = [
    Board(length=48, width=9, per_carton=3),
    Board(length=48, width=7, per_carton=4),
    Board(length=48, width=5, per_carton=3),
]
SIZES = size_piles(Flooring(boards=tuple(CARTON)), None, 0.01)


def orders(across: float) -> list[tuple[float, ...]]:
    return width_orders(box(0, 0, 200, across), SIZES, 2.0, 2.0, Random(1))


def plan(outline: list[list[float]], **changes: Any) -> Plan:
    boards = [{"length": b.length, "width": b.width, "per_carton": b.per_carton} for b in CARTON]
    request = read_request(
        rooms.request(outline, product={"boards": boards}, effort_iterations=40, **changes)
    )
    plan = plan_floor(request)
    assert check_plan(request, plan) == ()
    return plan


@pytest.mark.parametrize("across", [70, 140, 173])
def test_whole_inches_across_need_no_rip(across: float) -> None:
    assert sum(orders(across)[0]) == across


def test_no_width_comes_thrice_running() -> None:
    assert thrice_running(orders(173)[0]) == 0


def test_three_rows_of_one_width_are_counted_once_too_often() -> None:
    assert thrice_running([9, 7, 7, 7, 5]) == 1


def test_every_width_gets_about_its_share_of_rows() -> None:
    rows = Counter(orders(140)[0])
    assert (rows[9], rows[7], rows[5]) == (6, 8, 6)


def test_a_last_row_is_no_sliver() -> None:
    part = box(0, 0, 200, 100.4)
    best = width_orders(part, SIZES, 2.0, 2.0, Random(1))[0]
    assert narrowest_of(best, part, 2.0) >= 2


def test_rows_of_mixed_widths_are_judged_right_and_share_no_planks() -> None:
    laid = plan([[0, 0], [160, 0], [160, 100], [0, 100]])
    widths: dict[int, set[float]] = {}
    for piece in laid.pieces:
        widths.setdefault(piece.plank, set()).add(piece.size[1])
    assert all(len(of_plank) == 1 for of_plank in widths.values())


def test_cartons_hold_the_width_that_is_used_fastest() -> None:
    laid = plan([[0, 0], [160, 0], [160, 60], [90, 60], [90, 100], [0, 100]])
    used = Counter({piece.plank: piece.size[1] for piece in laid.pieces}.values())
    per_carton = {9: 3, 7: 4, 5: 3}
    assert laid.totals.cartons == max(-(-used[w] // n) for w, n in per_carton.items())
