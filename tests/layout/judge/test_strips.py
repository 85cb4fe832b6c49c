"""Slivers, and the balance of the first and last row."""

from __future__ import annotations

from dataclasses import replace

from layout.judge.check import check_plan
from layout.judge.strips import thin_between
from layout.values.advice import Relaxation
from layout.values.plan import Cut, Look, Offcut, Piece, Plan, RuleWarning
from layout.values.request import PlanRequest
from tests.layout import three_rows as floor
from tests.layout.judge.verdict import rules_broken
from tests.layout.three_rows import piece, plan, totals


def two_row_strip(first: float) -> tuple[PlanRequest, Plan]:
    """Return a floor 40 long and 10 across in two rows, the first one ripped to ``first``."""
    outline = [[0, 0], [40.5, 0], [40.5, 10.5], [0, 10.5]]
    bands = ((0.25, first), (0.25 + first, 10 - first))
    pieces: list[Piece] = []
    for number, (low, width) in enumerate(bands, start=1):
        corners = ((0.25, low), (40.25, low), (40.25, low + width), (0.25, low + width))
        origin = (0.25, low + width - 7) if number == 1 else (0.25, low)
        blank = piece(number, 1, number, 0, 40, 0)
        side = "high side" if number == 1 else "low side"
        cuts = (*blank.cuts, Cut(kind="rip", measure_from=side, at=width))
        pieces.append(replace(blank, outline=corners, origin=origin, cuts=cuts))
    counted = totals(
        planks=2,
        fewest=2,
        lower_bound=2,
        floor_area=40.5 * 10.5,
        laid_area=400.0,
        rack_max=0,
        waste=672 / 400 - 1,
        crosscuts=2,
        rips=2,
        full_pieces=0,
        look=Look(h_joints=0, staircases=0, smallest_offset=None),
    )
    laid = plan(pieces=tuple(pieces), totals=counted, offcuts=left_over(first), status="proven")
    return floor.request(outline=outline), laid


def left_over(first: float) -> tuple[Offcut, ...]:
    """Return the strip of the second plank, where it is wide enough to be one."""
    low = 10 - first + floor.KERF
    if 7 - low < 2:
        return ()
    outline = ((0.0, low), (48.0, low), (48.0, 7.0), (0.0, 7.0))
    strip = Offcut(
        id="F1",
        plank=2,
        length=48,
        width=7 - low,
        keeps=("left end", "right end", "high side"),
        at=(0.0, low),
        outline=outline,
    )
    return (strip,)


def test_two_strips_of_half_a_board_and_more_share_equally() -> None:
    assert check_plan(*two_row_strip(5.0)) == ()


def test_a_first_row_out_of_balance_is_caught() -> None:
    assert rules_broken(*two_row_strip(6.0)) == {"balance"}


def test_a_warning_does_not_excuse_a_floor_that_could_be_even() -> None:
    request, laid = two_row_strip(6.0)
    warning = RuleWarning(rule="balance", where="row 1", value=6, limit=5, text="No other way.")
    ease = Relaxation(rule="balance", limit=1, eased=0, clean=True)
    owned = replace(laid, warnings=(warning,), relax=(ease,))
    assert rules_broken(request, owned) == {"balance"}


def test_a_sliver_is_caught() -> None:
    assert {"min_row_width", "within plank"} <= rules_broken(*two_row_strip(1.5))


def test_without_balance_only_the_least_width_counts() -> None:
    _, laid = two_row_strip(6.0)
    outline = [[0, 0], [40.5, 0], [40.5, 10.5], [0, 10.5]]
    assert check_plan(floor.request(outline=outline, rules={"balance": False}), laid) == ()


def test_a_tip_that_a_wall_cuts_is_its_own_shape() -> None:
    # The chord stays below 2 in over 4.5 in of the row; the wall leans by 24 degrees.
    assert not list(thin_between(((0, 0, 40, 0), (0, 0, 40, 17.8)), 2.0))


def test_a_strip_under_a_wall_that_leans_less_counts() -> None:
    assert list(thin_between(((0, 0, 40, 0), (0, 0, 40, 10)), 2.0))
