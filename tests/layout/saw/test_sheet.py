"""The sheet of any plan: planks as they are laid, cuts as they are made."""

from __future__ import annotations

from dataclasses import replace

import pytest

from layout.planner.plan_floor import plan_floor
from layout.saw.sheet import sheet_of
from layout.values.errors import InputError
from layout.values.plan import Plan
from layout.values.request import read_request
from layout.values.sheet import PlankCuts
from tests import rooms
from tests.layout import three_rows


def cuts(plank: int, plan: Plan | None = None) -> PlankCuts:
    sheet = sheet_of(three_rows.request(), plan or three_rows.plan())
    return next(cuts for cuts in sheet.planks if cuts.plank == plank)


def test_planks_stand_as_their_first_piece_is_laid() -> None:
    sheet = sheet_of(three_rows.request(), three_rows.plan())
    assert [plank.plank for plank in sheet.planks] == [1, 2, 3, 4, 5, 6, 7, 8]


def test_a_whole_plank_has_no_cuts() -> None:
    assert cuts(2).cuts == ()


def test_a_cut_says_what_becomes_of_both_parts() -> None:
    cut = cuts(3).cuts[0]
    assert (cut.kind, cut.measure_from, cut.at, cut.goes) == ("crosscut", "left end", 28, "right")
    assert (cut.then.in_hand, cut.then.aside, cut.then.waste) == ("1-3", ("3-1",), False)


def test_a_cut_without_use_for_what_goes_says_so() -> None:
    assert cuts(4).cuts[0].then.waste
    assert not cuts(6).cuts[0].then.waste


def test_a_plan_made_elsewhere_is_sawn_from_its_pieces_alone() -> None:
    bare = [replace(piece, cuts=()) for piece in three_rows.plan().pieces]
    plan = replace(three_rows.plan(), pieces=tuple(bare), offcuts=())
    assert [cut.at for cut in cuts(3, plan).cuts] == [28]


def test_what_is_measured_on_site_keeps_its_limits_from_where_it_is_measured() -> None:
    form = rooms.request([[0, 0], [100, 0], [100, 60], [0, 60]], rules={"wall_error": 0.25})
    request = read_request({**form, "effort_iterations": 5})
    sheet = sheet_of(request, plan_floor(request))
    on_site = [c for plank in sheet.planks for c in plank.cuts if c.final != "exact"]
    assert on_site
    assert all(c.limits and c.limits[0] <= c.at <= c.limits[1] for c in on_site)


def test_pieces_that_no_order_makes_are_refused() -> None:
    plan = three_rows.plan()
    moved = [replace(p, plank=1) if p.id == "1-3" else p for p in plan.pieces]
    with pytest.raises(InputError, match="no order of cuts makes 1-1 and 1-3 of plank 1"):
        sheet_of(three_rows.request(), replace(plan, pieces=tuple(moved)))


def test_a_plan_in_another_unit_is_refused() -> None:
    with pytest.raises(InputError, match="unit: the plan is in mm; accepted: in"):
        sheet_of(three_rows.request(), three_rows.plan(unit="mm"))


@pytest.mark.parametrize(
    ("changes", "text"),
    [
        ({"product": {"length": 36, "width": 7, "per_carton": 10}}, "a board of the request: 36"),
        ({"outline": [[0, 0], [60, 0], [60, 21.5], [0, 21.5]]}, "lies outside the zone"),
        ({"outline": [[0, 0], [150, 0], [150, 21.5], [0, 21.5]]}, "totals.floor_area"),
    ],
)
def test_a_plan_of_another_request_is_refused(changes: dict[str, object], text: str) -> None:
    with pytest.raises(InputError, match=text):
        sheet_of(three_rows.request(**changes), three_rows.plan())
