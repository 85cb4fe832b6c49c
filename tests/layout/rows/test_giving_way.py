"""Where the balance rule gives way, and the strips that break another one."""

from __future__ import annotations

from typing import Any

import pytest
from shapely.geometry import Polygon

from layout.rows.frame import Frame
from layout.rows.giving_way import (
    balance_holds_sway,
    balance_warning,
    broken_strips,
    keeps_balance,
)
from layout.rows.ground import Ground
from layout.rows.rows import floor_of
from layout.values.outline import polygons_of
from layout.values.request import PlanRequest, read_request
from tests import rooms


def ten_rows(**changes: Any) -> PlanRequest:
    """Return a floor of ten rows of 7 in within its gaps."""
    return read_request(rooms.request([[0, 0], [161, 0], [161, 70.5], [0, 70.5]], **changes))


def ground_of(request: PlanRequest) -> tuple[Ground, Polygon]:
    ground = Ground.at_gaps(request, Frame(direction_deg=0))
    return ground, polygons_of(ground.region)[0]


def broken(request: PlanRequest, rip: float, *, last: bool = True) -> int:
    ground, part = ground_of(request)
    return broken_strips(ground, floor_of(part, request.product.board, rip).rows, last=last)


def test_a_full_last_row_leaves_no_room_for_a_wall_that_stands_off() -> None:
    assert broken(ten_rows(rules={"wall_error": 0.25}), 7.0) == 1


def test_a_ripped_last_row_leaves_room_for_a_wall_that_stands_off() -> None:
    assert broken(ten_rows(rules={"wall_error": 0.25}), 3.5) == 0


def test_a_last_row_that_may_come_out_too_narrow_breaks_a_rule() -> None:
    assert broken(ten_rows(rules={"wall_error": 0.25}), 5.0) == 1


def test_the_last_row_of_a_part_that_is_not_the_last_may_be_full() -> None:
    assert broken(ten_rows(rules={"wall_error": 0.25}), 7.0, last=False) == 0


def test_a_sliver_is_a_broken_strip() -> None:
    assert broken(ten_rows(), 1.5) == 1


def test_a_first_rip_that_balance_does_not_want_is_told() -> None:
    ground, part = ground_of(ten_rows())
    warning = balance_warning(ground, part, 6.5)
    assert warning is not None
    assert (warning.rule, warning.where, warning.value, warning.limit) == (
        "balance",
        "row 1",
        6.5,
        7.0,
    )


def test_a_first_rip_that_balance_wants_needs_no_word() -> None:
    assert balance_warning(*ground_of(ten_rows()), 7.0) is None


def test_half_a_board_at_both_walls_of_whole_rows_needs_no_word() -> None:
    assert balance_warning(*ground_of(ten_rows()), 3.5) is None


def test_half_a_board_at_both_walls_of_whole_rows_is_not_what_balance_leaves() -> None:
    assert keeps_balance(*ground_of(ten_rows()), 7.0)
    assert not keeps_balance(*ground_of(ten_rows()), 3.5)


@pytest.mark.parametrize(
    "changes", [{"rules": {"balance": False}}, {"zone": {"edges": {"2": {"max_gap": 1}}}}]
)
def test_there_is_no_balance_where_the_request_leaves_it_open(changes: dict[str, Any]) -> None:
    assert not balance_holds_sway(ten_rows(**changes))
