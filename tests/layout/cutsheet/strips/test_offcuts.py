"""Offcuts by the piece that they become: stack, size, who is cut with them, what if one breaks."""

from __future__ import annotations

from jobs.domain.packet.offcuts import offcuts_content
from layout.cutsheet.rows import RowsOfSheet
from layout.cutsheet.sheet import cut_sheet
from layout.cutsheet.strips.offcuts import offcuts_of_floor
from layout.planner.plan_floor import plan_floor
from layout.values.request import read_request
from tests.rooms import ell, study


def rows_of(data: dict[str, object]) -> RowsOfSheet:
    request = read_request(data)
    plan = plan_floor(request)
    return RowsOfSheet(request, plan, cut_sheet(request, plan))


def test_every_offcut_of_the_plan_is_named_by_the_piece_it_becomes() -> None:
    rows = rows_of(ell())
    offcuts = offcuts_of_floor(rows)
    planned = {o.used_by: o.stack for o in rows.plan.offcuts if o.used_by}
    assert {one.name: one.stack for one in offcuts.waiting} == planned
    assert len(planned) > 10


def test_one_is_cut_before_it_is_used_and_as_long_as_what_the_kerf_leaves() -> None:
    # Row 1 of the study ends with 16 1/2 of a plank of 48; the saw takes 1/8.
    rows = rows_of(study())
    first = next(one for one in offcuts_of_floor(rows).waiting if one.cut_with == "1-4")
    assert (first.size, first.row > 1) == ("31⅜", True)


def test_no_more_than_ten_wait_in_a_stack() -> None:
    assert 0 < offcuts_of_floor(rows_of(ell())).most <= 10


def test_where_one_breaks_a_new_plank_takes_its_place_while_there_are_spares() -> None:
    rows = rows_of(study())
    entries = [e for stack in offcuts_content(rows, spares=3)["stacks"] for e in stack["entries"]]
    assert entries
    assert all("a new plank" in entry["breaks"] for entry in entries)
    without = [e for stack in offcuts_content(rows, spares=0)["stacks"] for e in stack["entries"]]
    assert all("a new plank" not in entry["breaks"] for entry in without)
    assert any(entry["breaks"] == "stop, no spare is left" for entry in without)


def test_what_comes_of_an_offcut_later_is_named_where_it_breaks() -> None:
    rows = rows_of(ell())
    for one in offcuts_of_floor(rows).waiting:
        plank = next(p.plank for p in rows.plan.pieces if p.id == one.name)
        mates = {p.id for p in rows.plan.pieces if p.plank == plank} - {one.name}
        assert set(one.also) <= mates
