"""Offcuts read off the saw: true shapes, whom they wait for, and on which stack."""

from __future__ import annotations

from dataclasses import replace
from itertools import islice

import pytest

from layout.saw.leftovers import letters, with_offcuts
from layout.values.plan import Plan
from tests.layout import three_rows


def listed() -> Plan:
    return with_offcuts(three_rows.request(), three_rows.plan())


def test_what_waits_for_a_later_row_is_on_a_stack() -> None:
    """28 of plank 3 end row 1; 19.875 of it begin row 3."""
    waiting = [offcut for offcut in listed().offcuts if offcut.used_by]
    assert [(o.plank, o.used_by, o.stack) for o in waiting] == [(3, "3-1", "A")]
    assert set(waiting[0].outline) == {(48, 0), (48, 7), (28.125, 7), (28.125, 0)}
    assert waiting[0].keeps == ("right end", "low side", "high side")


def test_what_is_left_over_is_long_enough_for_an_end() -> None:
    """Planks 1 (23.875), 6 (35.875) and 8 (15.75); the 7.875 of plank 4 are waste."""
    over = [offcut for offcut in listed().offcuts if offcut.used_by is None]
    assert [o.plank for o in over] == [1, 6, 8]
    assert [o.length for o in over] == pytest.approx([23.875, 35.875, 15.75])
    assert {o.stack for o in over} == {None}


def test_one_waits_at_once() -> None:
    assert listed().totals.rack_max == 1


def test_pieces_of_one_row_need_no_stack() -> None:
    plan = three_rows.plan()
    moved = [replace(p, row=1) if p.id == "3-1" else p for p in plan.pieces]
    offcuts = with_offcuts(three_rows.request(), replace(plan, pieces=tuple(moved))).offcuts
    assert [offcut.stack for offcut in offcuts if offcut.used_by] == [None]


def test_no_more_than_ten_wait_on_one_stack() -> None:
    """Twelve planks are cut in rows 1 to 12, what is left of them begins rows 13 to 24."""
    first = [three_rows.piece(row, 1, row, 0.0, 20.0, 0.0) for row in range(1, 13)]
    again = [three_rows.piece(12 + row, 1, row, 0.0, 20.0, 28.0) for row in range(1, 13)]
    plan = with_offcuts(three_rows.request(), three_rows.plan(pieces=(*first, *again)))
    assert [offcut.stack for offcut in plan.offcuts if offcut.used_by] == [*"AAAAAAAAAABB"]
    assert plan.totals.rack_max == 12


def test_after_z_come_two_letters() -> None:
    assert list(islice(letters(), 25, 28)) == ["Z", "AA", "AB"]
