"""A last row cut from narrower leftovers: how wide it may be ripped, and the way out past that."""

from __future__ import annotations

import re
from functools import cache
from typing import Any

import pytest
from django.template.loader import render_to_string

from jobs.domain.packet.sliding.stick import slide_words
from layout.cutsheet.sheet import cut_sheet
from layout.cutsheet.stick import stopping_lines
from layout.cutsheet.strips.ends import width_box
from layout.cutsheet.strips.narrow import NarrowRow, names_words, narrow_row
from layout.cutsheet.strips.rows import floor_strips, spares_of
from layout.planner.plan_floor import plan_floor
from layout.values.plan import Plan
from layout.values.request import PlanRequest, read_request
from layout.values.sheet import CutSheet
from tests.rooms import two_rooms

# Row 1 keeps 2 1/4 of 7: 7 - 2 1/4 - 1/8 of kerf leave 4 5/8, and ripped again 4 1/2.
MOST = 4.5
THREE = NarrowRow(pieces=("40-1", "40-2", "40-3"), most=4.25, spares=4)


@cache
def planned() -> tuple[PlanRequest, Plan, CutSheet]:
    wanted = read_request({**two_rooms(), "spares": 4, "effort_iterations": 10})
    plan = plan_floor(wanted)
    return wanted, plan, cut_sheet(wanted, plan)


def far(narrow: NarrowRow | None) -> dict[str, Any]:
    wanted, plan, _ = planned()
    words = slide_words(wanted, plan, stopping_lines(wanted, plan), None, (), narrow)
    table: dict[str, Any] = words["far"]
    return table


def test_a_row_from_leftovers_of_row_one_is_no_wider_than_they_are() -> None:
    wanted, plan, sheet = planned()
    narrow = narrow_row(wanted, plan, sheet, 17, spares_of(wanted, plan))
    assert narrow is not None
    assert narrow.most == pytest.approx(MOST)
    last = {p.id: p for p in plan.pieces if p.row == 17}
    from_first = {p.plank for p in plan.pieces if p.row == 1}
    ripped = {name for name, piece in last.items() if piece.plank in from_first}
    assert ripped <= set(narrow.pieces) <= set(last)
    (box,) = [w for w in floor_strips(*planned()).rows[-1].walls if w.kind == "rip"]
    assert (box.cut, box.limits) == ("2¼", "2 to 4½")
    assert box.over == f"{narrow.names} new"
    assert box.under == f"{len(narrow.pieces)} new planks; so to 7, over: stop"


def test_the_way_out_is_a_stop_only_where_spares_do_not_reach() -> None:
    across, limits = (4, 0.25), (2, 7)
    box = width_box(40, across, limits, "in", THREE)
    assert (box.limits, box.over) == ("2 to 4¼", "40-1 to 40-3 new")
    assert box.under == "3 new planks; so to 7, over: stop"
    for spares, words in ((2, "2 spares"), (1, "1 spare"), (0, "no spare")):
        few = NarrowRow(pieces=THREE.pieces, most=4.25, spares=spares)
        box = width_box(40, across, limits, "in", few)
        assert (box.over, box.under) == ("stop, call", f"{words} for 40-1 to 40-3")
    whole = width_box(40, across, limits, "in")
    assert (whole.limits, whole.over, whole.under) == ("2 to 7", "stop, call", "")


def test_a_limit_is_told_in_eighths_rounded_down_but_never_under_the_plan() -> None:
    odd = NarrowRow(pieces=("40-1",), most=4.2, spares=1)
    assert width_box(40, (4, 0.25), (2, 7), "in", odd).limits == "2 to 4⅛"
    just = NarrowRow(pieces=("40-1",), most=4, spares=1)
    assert width_box(40, (4, 0.25), (2, 7), "in", just).limits == "2 to 4"


def test_the_table_of_walls_off_names_the_new_planks() -> None:
    # The plan's 2 1/4 comes to 2 3/4 at most: leftovers of 4 1/2 reach, those of 2 1/2 do not.
    assert far(None)["new"] is far(THREE)["new"] is None
    pieces = ("17-2", "17-3", "17-5")
    table = far(NarrowRow(pieces=pieces, most=2.5, spares=4))
    assert table["further"] == [["⅛", "2⅜"], ["¼", "2½"], ["⅜", "2⅝"], ["½", "2¾"]]
    assert table["new"] == {"over": "2½", "names": "17-2, 17-3 and 17-5", "need": 3, "left": 1}
    assert far(NarrowRow(pieces=pieces, most=2.5, spares=1))["new"]["left"] == -2


@pytest.mark.parametrize(
    ("left", "words"),
    [
        (1, "Over 4¼: 40-1 to 40-3 from new planks; spares left 1."),
        (-2, "Over 4¼: stop, too few spares for 40-1 to 40-3."),
    ],
)
def test_the_paper_says_what_is_cut_from_new_planks(left: int, words: str) -> None:
    new = {"over": "4¼", "names": "40-1 to 40-3", "need": 3, "left": left}
    slide = {"far": {"who": "row 40", "plan": "4", "nearer": [], "further": [], "new": new}}
    packet = {"number": 1, "floors": [{"name": "Hall", "stick": {"slide": slide}}]}
    paper = render_to_string("jobs/packets/_print_slides.html", {"packet": packet})
    assert words in " ".join(re.sub("<[^>]+>", "", paper).split())


def test_pieces_in_a_row_are_told_by_the_first_and_the_last() -> None:
    assert names_words(("40-1", "40-2")) == "40-1 and 40-2"
    assert names_words(("40-1", "40-3", "40-4", "40-5")) == "40-1 and 40-3 to 40-5"
    assert names_words(("40-10",)) == "40-10"
