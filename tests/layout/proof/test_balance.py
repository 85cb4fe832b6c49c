"""The first rips of the balance rule, by the judge's own count and by the planner's."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

from layout.proof.balance import first_rips
from layout.rows.strips import allowed_first_rips


@pytest.mark.parametrize(
    ("across", "first"),
    [(70.0, 7.0), (73.5, 7.0), (75.0, 7.0), (72.0, 4.5), (4.0, 7.0), (3.0, 5.0)],
)
def test_a_plain_floor_has_one_first_rip(across: float, first: float) -> None:
    """Full where half a board or more remains across, else remainder and one board shared."""
    ((low, high),) = first_rips(box(0, 0, 100, across), 7.0, 2.0)
    assert (low, high) == pytest.approx((first, first))


def test_an_ell_keeps_every_strip_at_half_a_board_where_it_can() -> None:
    ell = Polygon([(0, 0), (90, 0), (90, 30), (40, 30), (40, 53), (0, 53)])
    for low, high in first_rips(ell, 10.0, 2.0):
        for line in (low, (low + high) / 2, high):
            strips = ((30 - line) % 10 or 10, (53 - line) % 10 or 10)
            assert min(line, *strips) >= 5 - 1e-5


def test_where_no_rip_keeps_half_a_board_the_narrowest_strip_is_widest() -> None:
    ell = Polygon([(0, 0), (90, 0), (90, 80.75), (40, 80.75), (40, 180.75), (0, 180.75)])
    ((low, high),) = first_rips(ell, 9.0, 2.0)
    assert (low, high) == pytest.approx((4.375, 4.375), abs=1e-5)


@settings(deadline=None, max_examples=200)
@given(st.lists(st.tuples(st.integers(3, 40), st.integers(8, 160)), min_size=1, max_size=5))
def test_the_judge_and_the_planner_leave_the_same_first_rips(steps: list[tuple[int, int]]) -> None:
    top: list[tuple[float, float]] = []
    x = 0.0
    for wide, deep in steps:
        top += [(x, deep / 4), (x + wide, deep / 4)]
        x += wide
    floor = Polygon([(0, -1), (x, -1), *reversed(top)]).simplify(0)
    ours = first_rips(floor, 7.0, 2.0)
    theirs = allowed_first_rips(floor, 7.0, 2.0, balance=True, min_width=2.0)
    for one, other in ((ours, theirs), (theirs, ours)):
        for low, high in one:
            middle = (low + high) / 2
            assert any(a - 1e-4 <= middle <= b + 1e-4 for a, b in other)
