"""From a plan and what was laid of it to the next request, and the plan of a changed room."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache
from math import ceil
from typing import Any

import pytest
from shapely.geometry import Polygon, box

from layout.judge.check import check_plan
from layout.planner.plan_floor import plan_floor
from layout.resume.remaining import go_on, pieces_down, planks_begun
from layout.values.errors import InputError
from layout.values.plan import Plan
from layout.values.plan_form import plan_to_json
from layout.values.request import PlanRequest, read_request
from tests import rooms

ROWS_DOWN = 12
SPOILED = 4


def den(high: float = 206.5) -> PlanRequest:
    """Thirty rows: 206 in between the gaps are 29 boards and 3 in, so both outer rows are 5 in."""
    data = rooms.request([[0, 0], [150, 0], [150, high], [0, high]], effort_iterations=40)
    return read_request(data)


@cache
def first_plan() -> Plan:
    return plan_floor(den())


def down() -> tuple[str, ...]:
    return pieces_down(first_plan(), rows=ROWS_DOWN)


def bought(spare_cartons: int = 0) -> int:
    """Return the planks that were delivered: whole cartons of ten."""
    return 10 * (ceil(first_plan().totals.planks / 10) + spare_cartons)


def cut_so_far() -> int:
    """Return how many planks lie in the first rows, counted from the plan's own list."""
    return len({piece.plank for piece in first_plan().pieces if piece.row <= ROWS_DOWN})


def waiting() -> list[str]:
    """Return the labels on the rack: of planks cut so far, for pieces of later rows."""
    rows = {piece.id: piece.row for piece in first_plan().pieces}
    cut = {piece.plank for piece in first_plan().pieces if piece.row <= ROWS_DOWN}
    return [
        offcut.id
        for offcut in first_plan().offcuts
        if offcut.plank in cut and offcut.used_by and rows[offcut.used_by] > ROWS_DOWN
    ]


def changed_room(planks_left: int, high: float = 205.25) -> tuple[PlanRequest, Plan]:
    """Return the request and the plan after row 12: last row narrower, a leftover broken."""
    request = go_on(
        replace(den(), zone=den(high).zone),
        first_plan(),
        laid_ids=down(),
        planks_left=planks_left,
        offcuts_gone=waiting()[:1],
    )
    return request, plan_floor(request)


def missing(request: PlanRequest, plan: Plan, left: int) -> int:
    """Return the planks that are missing, counted from the pieces that are not down."""
    laid = {piece.id for piece in request.laid}
    old = {piece.plank for piece in request.laid}
    fresh = {piece.plank for piece in plan.pieces if piece.id not in laid} - old
    return max(0, len(fresh) - left)


def test_the_room_has_thirty_rows() -> None:
    assert max(piece.row for piece in first_plan().pieces) == 30


def test_a_changed_room_is_gone_on_with_and_judged_right() -> None:
    request, plan = changed_room(bought() - cut_so_far() - SPOILED)
    assert check_plan(request, plan) == ()


def test_pieces_down_lie_unmoved_in_the_changed_room() -> None:
    _, plan = changed_room(bought() - cut_so_far() - SPOILED)
    old = [piece for piece in first_plan().pieces if piece.row <= ROWS_DOWN]
    assert [piece.outline for piece in plan.pieces[: len(old)]] == [p.outline for p in old]


def test_the_last_row_has_its_new_width() -> None:
    _, plan = changed_room(bought())
    last = [piece for piece in plan.pieces if piece.row == 30]
    widths = {round(max(y for _, y in p.outline) - min(y for _, y in p.outline), 3) for p in last}
    assert widths == {3.75}


def test_planks_short_after_a_mishap_are_counted() -> None:
    left = bought() - cut_so_far() - SPOILED - 6
    request, plan = changed_room(left)
    short = missing(request, plan, left)
    assert short > 0
    assert (plan.totals.shortage_planks, plan.totals.shortage_cartons) == (short, ceil(short / 10))


def test_nothing_is_short_where_a_spare_carton_stands_by() -> None:
    left = bought(spare_cartons=1) - cut_so_far() - SPOILED
    request, plan = changed_room(left)
    assert missing(request, plan, left) == 0
    assert (plan.totals.shortage_planks, plan.totals.shortage_cartons) == (0, 0)


def test_a_wider_last_row_is_gone_on_with_as_well() -> None:
    request, plan = changed_room(bought(), high=208)
    assert check_plan(request, plan) == ()


def test_a_broken_leftover_is_not_used() -> None:
    request, plan = changed_room(bought())
    gone = next(o for o in first_plan().offcuts if o.id == waiting()[0])
    laid = {piece.id for piece in request.laid}
    assert gone.plank not in {piece.plank for piece in plan.pieces if piece.id not in laid}


def test_what_waits_on_the_rack_is_at_hand_under_its_label() -> None:
    request = go_on(den(), first_plan(), laid_ids=down(), planks_left=50)
    assert request.on_hand is not None
    assert set(waiting()) <= {offcut.id for offcut in request.on_hand.offcuts}


def test_offcuts_at_hand_lie_clear_of_what_was_cut_from_their_planks() -> None:
    request = go_on(den(), first_plan(), laid_ids=down(), planks_left=50)
    assert request.on_hand is not None
    for offcut in request.on_hand.offcuts:
        x, y = offcut.at
        mine = box(x, y, x + offcut.length, y + offcut.width)
        for piece in (p for p in request.laid if p.plank == offcut.plank):
            shape = [(a - piece.origin[0], b - piece.origin[1]) for a, b in piece.outline]
            assert mine.intersection(Polygon(shape)).area < 1e-6


def test_planks_begun_are_those_of_the_pieces_down() -> None:
    assert planks_begun(den(), first_plan(), down()) == cut_so_far()


def test_rows_and_pieces_down_are_counted_in_the_order_of_laying() -> None:
    ids = pieces_down(first_plan(), rows=2, pieces=3)
    assert ids == tuple(piece.id for piece in first_plan().pieces[: len(ids)])
    assert sum(name.startswith("3-") for name in ids) == 3


@pytest.mark.parametrize(("rows", "pieces"), [(31, 0), (-1, 0), (1, 40), (30, 1)])
def test_more_rows_or_pieces_than_there_are_can_not_be_down(rows: int, pieces: int) -> None:
    with pytest.raises(InputError, match="accepted: 0 to"):
        pieces_down(first_plan(), rows=rows, pieces=pieces)


def test_a_piece_that_the_plan_does_not_have_is_refused() -> None:
    with pytest.raises(InputError, match="laid_ids: '99-1' can't be used; accepted: ids of"):
        go_on(den(), first_plan(), laid_ids=["99-1"], planks_left=None)


def test_an_offcut_that_the_plan_does_not_have_is_refused() -> None:
    with pytest.raises(InputError, match="offcuts_gone: 'X9' can't be used; accepted: labels of"):
        go_on(den(), first_plan(), laid_ids=down(), planks_left=None, offcuts_gone=["X9"])


def test_a_piece_laid_out_of_turn_leaves_the_rest_of_its_plank() -> None:
    pair = next(o for o in first_plan().offcuts if o.used_by is not None)
    request = go_on(den(), first_plan(), laid_ids=[str(pair.used_by)], planks_left=None)
    assert request.on_hand is not None
    (left,) = request.on_hand.offcuts
    user = request.laid[0]
    taken = max(x for x, _ in user.outline) - min(x for x, _ in user.outline)
    assert left.plank == pair.plank
    assert left.length == pytest.approx(48 - 0.125 - taken)


def test_pieces_of_a_written_plan_can_be_given_back_as_laid() -> None:
    form: Any = plan_to_json(first_plan())
    data = rooms.request([[0, 0], [150, 0], [150, 206.5], [0, 206.5]], effort_iterations=20)
    request = read_request({**data, "laid": json.loads(json.dumps(form["pieces"][:20]))})
    assert check_plan(request, plan_floor(request)) == ()


def test_a_plan_in_the_best_direction_goes_on_in_that_direction() -> None:
    request = replace(den(), rules=replace(den().rules, direction_deg=None))
    again = go_on(request, first_plan(), laid_ids=down(), planks_left=None)
    assert again.rules.direction_deg == 0
