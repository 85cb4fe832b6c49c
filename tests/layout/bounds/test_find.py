"""Lower bounds: never above a plan that keeps the rules, and often met."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise, product
from math import ceil
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from layout.bounds.find import lower_bound
from layout.planner.plan_floor import plan_floor
from layout.proof.certificate import check
from layout.proof.floor import area_bound
from layout.values.request import PlanRequest, read_request
from tests.bench.hard_rooms import hard_rooms
from tests.bench.rooms import bench_rooms

LENGTH, WIDTH = 12.0, 5.0

Ring = Sequence[Sequence[float]]


def _request(ring: Ring, holes: Any = None, **rules: Any) -> PlanRequest:
    """Return a request for boards of 12 by 5 without gaps."""
    form = {
        "format": 1,
        "unit": "in",
        "zone": {"outline": ring, "holes": holes or []},
        "product": {"length": LENGTH, "width": WIDTH, "per_carton": 10},
        "rules": {
            "expansion_gap": 0,
            "saw_kerf": 0,
            "min_end_piece": 0,
            "min_joint_offset": 0,
            "min_row_width": 2,
            "direction_deg": 0,
            **rules,
        },
    }
    return read_request(form)


def _rectangle(across: float, rows: int, **rules: Any) -> PlanRequest:
    high = rows * WIDTH
    return _request([[0, 0], [across, 0], [across, high], [0, high]], **rules)


def _ways(across: float, least_end: float, step: float) -> list[tuple[float, float, int]]:
    """Return every way to cut a row: first piece, last piece, whole boards between."""
    ways = []
    for k in range(1, round(LENGTH / step) + 1):
        starter = k * step
        for boards in range(9):
            ender = across - starter - boards * LENGTH
            if max(step / 2, least_end) <= ender <= LENGTH and starter >= least_end:
                ways.append((starter, ender, boards))
    return ways


def _planks(rows: tuple[tuple[float, float, int], ...], kerf: float) -> int:
    """Return the planks of rows cut so, every leftover used as well as can be."""
    starters = sorted((s for s, _, _ in rows), reverse=True)
    rooms = sorted(LENGTH - kerf - e for _, e, _ in rows)
    matched = 0
    for starter in starters:
        room = next((r for r in rooms if r >= starter - 1e-9), None)
        # A whole board needs no leftover; it counts as a plank of its own.
        if room is not None:
            rooms.remove(room)
            matched += 1
    return sum(boards + 2 for _, _, boards in rows) - matched


def _fewest(across: float, rows: int, kerf: float, least_end: float, offset: float) -> int | None:
    """Return the fewest planks over every row cut every way (rows longer than a board)."""
    best: int | None = None
    for chosen in product(_ways(across, least_end, 1.0), repeat=rows):
        apart = all(
            min((a[0] - b[0]) % LENGTH, (b[0] - a[0]) % LENGTH) >= offset - 1e-9
            for a, b in pairwise(chosen)
        )
        if apart:
            planks = _planks(chosen, kerf)
            best = planks if best is None else min(best, planks)
    return best


@settings(deadline=None, max_examples=60)
@given(
    st.integers(13, 47),
    st.integers(1, 4),
    st.sampled_from([0.0, 0.5]),
    st.sampled_from([0.0, 2.0, 3.0, 4.0]),
    st.sampled_from([0.0, 2.0, 3.0, 4.0]),
)
def test_no_way_to_lay_a_small_rectangle_beats_the_bound(
    across: int, rows: int, kerf: float, least_end: float, offset: float
) -> None:
    fewest = _fewest(across, rows, kerf, least_end, offset)
    rules = {"saw_kerf": kerf, "min_end_piece": least_end, "min_joint_offset": offset}
    bound = lower_bound(_rectangle(across, rows, **rules), 0.0)
    assert fewest is None or bound.value <= fewest


@settings(deadline=None, max_examples=40)
@given(st.integers(2, 12), st.integers(1, 6), st.sampled_from([0.0, 0.5, 1.0]))
def test_rows_of_one_piece_share_planks_as_stock_is_cut(
    across: int, rows: int, kerf: float
) -> None:
    fewest = ceil(rows / int((LENGTH + kerf) // (across + kerf)))
    bound = lower_bound(_rectangle(across, rows, saw_kerf=kerf), 0.0)
    assert bound.value <= fewest


@pytest.mark.parametrize(
    ("across", "rows", "kerf", "least_end", "offset"),
    [
        (36, 4, 1.0, 3, 2),
        (28, 3, 1.0, 3, 4),
        (39, 4, 1.0, 3, 3),
        (36, 4, 0.0, 4, 4),
        (22, 4, 1.0, 4, 0),
        (25, 4, 0.0, 4, 2),
    ],
)
def test_the_bound_is_met_on_small_rectangles(
    across: float, rows: int, kerf: float, least_end: float, offset: float
) -> None:
    rules = {"saw_kerf": kerf, "min_end_piece": least_end, "min_joint_offset": offset}
    bound = lower_bound(_rectangle(across, rows, **rules), 0.0)
    assert bound.value == _fewest(across, rows, kerf, least_end, offset)


def test_short_end_pieces_cost_planks_that_area_does_not_see() -> None:
    request = _rectangle(26, 10, saw_kerf=0.5, min_end_piece=4)
    assert lower_bound(request, 0.0).value > area_bound(request)


def test_joints_kept_apart_cost_planks() -> None:
    free = _rectangle(27, 12, saw_kerf=0.5, min_end_piece=4)
    apart = _rectangle(27, 12, saw_kerf=0.5, min_end_piece=4, min_joint_offset=4)
    assert lower_bound(apart, 0.0).value > lower_bound(free, 0.0).value


def test_a_wider_kerf_never_lowers_the_bound() -> None:
    values = [
        lower_bound(_rectangle(29, 9, saw_kerf=kerf, min_end_piece=2), 0.0).value
        for kerf in (0, 0.25, 0.5, 1)
    ]
    assert values == sorted(values)


def test_turning_room_and_direction_together_changes_nothing() -> None:
    room: Ring = [[0.0, 0.0], [29, 0], [29, 20], [13, 20], [13, 33], [0, 33]]
    turned = [[-y, x] for x, y in room]
    rules = {"saw_kerf": 0.25, "min_end_piece": 2, "min_joint_offset": 2}
    straight = lower_bound(_request(room, **rules), 0.0)
    across = lower_bound(_request(turned, **rules, direction_deg=90), 90.0)
    assert straight.value == across.value


def test_moving_a_room_changes_nothing() -> None:
    room: Ring = [[0.0, 0.0], [41, 0], [41, 33], [0, 33]]
    moved = [[x + 117.3, y - 58.1] for x, y in room]
    rules = {"saw_kerf": 0.25, "min_end_piece": 3, "min_joint_offset": 3}
    assert lower_bound(_request(room, **rules), 0.0).value == (
        lower_bound(_request(moved, **rules), 0.0).value
    )


def test_a_column_lowers_the_bound_by_no_more_than_its_boards() -> None:
    room: Ring = [[0.0, 0.0], [60, 0], [60, 50], [0, 50]]
    hole = [[25, 20], [35, 20], [35, 30], [25, 30]]
    rules = {"saw_kerf": 0.25, "min_end_piece": 2}
    whole = lower_bound(_request(room, **rules), 0.0).value
    less = lower_bound(_request(room, [hole], **rules), 0.0).value
    assert whole - 4 <= less <= whole


def test_offcuts_at_hand_are_taken_off() -> None:
    request = _rectangle(30, 8, min_end_piece=2)
    form_offcut = {"id": "F1", "plank": 1, "length": 9, "width": 5, "keeps": ["right end"]}
    with_offcut = read_request(
        {
            "format": 1,
            "unit": "in",
            "zone": {"outline": [[0, 0], [30, 0], [30, 40], [0, 40]]},
            "product": {"length": LENGTH, "width": WIDTH, "per_carton": 10},
            "rules": {
                "expansion_gap": 0,
                "saw_kerf": 0,
                "min_end_piece": 2,
                "min_joint_offset": 0,
                "min_row_width": 2,
                "direction_deg": 0,
            },
            "on_hand": {"offcuts": [form_offcut]},
        }
    )
    less, more = lower_bound(with_offcut, 0.0).value, lower_bound(request, 0.0).value
    assert more - 1 <= less <= more


def test_a_plan_that_breaks_a_rule_under_a_warning_keeps_a_bound_it_meets() -> None:
    request = _rectangle(26, 10, saw_kerf=0.5, min_end_piece=4)
    strict = lower_bound(request, 0.0).value
    assert lower_bound(request, 0.0, planks=strict - 1).value <= strict - 1


def test_work_ends_at_the_stop_with_a_bound_that_holds() -> None:
    request = _rectangle(29, 9, saw_kerf=0.5, min_end_piece=2)
    bound = lower_bound(request, 0.0, stop=lambda: True)
    assert area_bound(request) <= bound.value <= lower_bound(request, 0.0).value


def test_a_stop_is_heard_while_marks_are_weighed() -> None:
    # Of the asks one comes before marks are weighed; the next ones come from the linear program.
    request, asks = read_request(bench_rooms()["bay 4"]), iter([False, False, False])
    bound = lower_bound(request, 0.0, stop=lambda: next(asks, True))
    assert bound.proof["kind"] == "area"
    assert lower_bound(request, 0.0).value > bound.value


@settings(deadline=None, max_examples=30)
@given(st.integers(20, 60), st.integers(20, 60), st.integers(8, 19), st.integers(8, 19))
def test_every_bound_is_what_its_certificate_proves(
    wide: int, high: int, notch_x: int, notch_y: int
) -> None:
    ring: list[list[float]] = [
        [0, 0],
        [wide, 0],
        [wide, high - notch_y],
        [wide - notch_x, high - notch_y],
    ]
    ring += [[wide - notch_x, high], [0, high]]
    request = _request(ring, saw_kerf=0.125, min_end_piece=3, min_joint_offset=3)
    bound = lower_bound(request, 0.0)
    assert check(request, 0.0, bound.proof) == bound.value >= area_bound(request)


@pytest.mark.parametrize(
    "name", ["ell 2", "bay 6", "column 1", "thin post 4", "angled 5", "suite 4"]
)
def test_no_plan_that_keeps_the_rules_goes_below_the_bound_of_its_room(name: str) -> None:
    request = read_request({**bench_rooms()[name], "effort_iterations": 30})
    plan = plan_floor(request)
    assert not plan.warnings
    assert lower_bound(request, 0.0).value <= plan.totals.planks


def test_marks_close_enough_prove_a_room_just_over_three_planks() -> None:
    # Its area says 34 planks, and so do half as many places for marks.
    request = read_request(hard_rooms()["just over 3"])
    bound = lower_bound(request, 0.0)
    assert bound.value == 35
    assert check(request, 0.0, bound.proof) == 35
