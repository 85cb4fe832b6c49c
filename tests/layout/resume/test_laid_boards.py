"""Going on from what is down: laid pieces stay, leftovers at hand are used, the judge agrees."""

from __future__ import annotations

from dataclasses import replace
from math import ceil
from random import Random

import pytest
from shapely.geometry import Polygon

from layout.judge.check import check_plan
from layout.planner.plan_floor import plan_floor
from layout.values.errors import InputError, NoPlanError
from layout.values.leftovers import OnHand
from layout.values.plan import Offcut, Plan
from layout.values.request import PlanRequest, read_request
from tests import rooms


def request_of(name: str, **lay: str) -> PlanRequest:
    return read_request({**rooms.ROOMS[name](), "lay": lay, "effort_iterations": 30})


def waiting(plan: Plan, laid: int) -> tuple[Offcut, ...]:
    """Return the leftovers of planks cut so far that a piece to come would be cut from."""
    done = {piece.id for piece in plan.pieces[:laid]}
    cut = {piece.plank for piece in plan.pieces[:laid]}
    by_plank: dict[int, Offcut] = {}
    for offcut in plan.offcuts:
        if offcut.plank in cut and offcut.used_by is not None and offcut.used_by not in done:
            by_plank.setdefault(offcut.plank, replace(offcut, used_by=None))
    return tuple(by_plank.values())


def interrupted(request: PlanRequest, laid: int) -> tuple[PlanRequest, Plan]:
    """Return the request to go on after so many pieces, and the judged plan of it."""
    first = plan_floor(request)
    on_hand = OnHand(offcuts=waiting(first, laid))
    again = replace(request, laid=first.pieces[:laid], on_hand=on_hand)
    plan = plan_floor(again)
    assert check_plan(again, plan) == ()
    return again, plan


@pytest.mark.parametrize("name", ["study", "ell", "column", "two_rooms", "bedroom_mm"])
@pytest.mark.parametrize("laid", [1, 14, 27])
def test_a_floor_begun_is_finished_without_a_fault(name: str, laid: int) -> None:
    interrupted(request_of(name), laid)


@pytest.mark.parametrize("start", ["low", "high"])
@pytest.mark.parametrize("first_end", ["left", "right"])
def test_every_hand_goes_on_from_its_end(start: str, first_end: str) -> None:
    interrupted(request_of("ell", start=start, first_end=first_end), 20)


def test_laid_pieces_stay_as_they_are() -> None:
    request, plan = interrupted(request_of("study"), 20)
    assert plan.pieces[:20] == request.laid


def fullest(plan: Plan) -> int:
    """Return after how many pieces most leftovers wait."""
    return max(range(1, len(plan.pieces)), key=lambda laid: len(waiting(plan, laid)))


def test_an_offcut_at_hand_is_no_new_plank() -> None:
    request = request_of("ell")
    first = plan_floor(request)
    laid = fullest(first)
    with_, without = (
        plan_floor(replace(request, laid=first.pieces[:laid], on_hand=OnHand(offcuts=offcuts)))
        for offcuts in (waiting(first, laid), ())
    )
    assert with_.totals.planks < without.totals.planks


def test_offcuts_at_hand_keep_their_label() -> None:
    laid = fullest(plan_floor(request_of("ell")))
    request, plan = interrupted(request_of("ell"), laid)
    labels = {offcut.id for offcut in request.on_hand.offcuts} if request.on_hand else set()
    used = {offcut.id for offcut in plan.offcuts if offcut.used_by is not None}
    assert used & labels


def test_what_is_missing_is_counted_from_what_is_left() -> None:
    request, plan = interrupted(request_of("study"), 20)
    short = replace(request, on_hand=OnHand(planks=plan.totals.planks - 2))
    again = plan_floor(short)
    assert check_plan(short, again) == ()
    assert again.totals.shortage_planks == again.totals.planks - (plan.totals.planks - 2)


def test_a_laid_board_off_the_row_lines_is_refused() -> None:
    request = request_of("study")
    first = plan_floor(request)
    moved = replace(first.pieces[20], origin=(first.pieces[20].origin[0], 60.0))
    with pytest.raises(InputError, match=r"laid\[1\]\.origin"):
        plan_floor(replace(request, laid=(first.pieces[0], moved)))


def test_a_miscounted_row_is_refused() -> None:
    request = request_of("study")
    piece = replace(plan_floor(request).pieces[0], row=3)
    with pytest.raises(InputError, match=r"laid\[0\]\.row"):
        plan_floor(replace(request, laid=(piece,)))


def test_a_finished_floor_leaves_nothing_to_plan() -> None:
    request = request_of("study")
    with pytest.raises(NoPlanError, match="nothing is left"):
        plan_floor(replace(request, laid=plan_floor(request).pieces))


@pytest.mark.parametrize("seed", range(6))
def test_random_interruptions_are_judged_right(seed: int) -> None:
    chance = Random(seed)
    name = chance.choice(["pantry", "just_over_three", "bay", "island", "register"])
    request = request_of(name)
    count = len(plan_floor(request).pieces)
    interrupted(request, chance.randrange(1, count))


def ripped_at_hand(across: float, **offcut: object) -> Plan:
    """Return the judged plan of a room whose outer rows are 5 in wide, a leftover at hand.

    No row of less than 40 in can be of two pieces.
    """
    data = rooms.request(
        [[0, 0], [across, 0], [across, 17.5], [0, 17.5]],
        rules={"min_end_piece": 20},
        effort_iterations=30,
        on_hand={"offcuts": [{"id": "F9", "plank": 50, "width": 5.25, **offcut}]},
    )
    request = read_request(data)
    plan = plan_floor(request)
    assert check_plan(request, plan) == ()
    return plan


def users(plan: Plan, label: str) -> list[int]:
    """Return the rows of the pieces cut from an offcut."""
    rows = {piece.id: piece.row for piece in plan.pieces}
    return [rows[o.used_by] for o in plan.offcuts if o.id == label and o.used_by is not None]


def test_a_ripped_leftover_of_full_length_serves_the_last_row() -> None:
    keeps = ["left end", "right end", "low side"]
    plan = ripped_at_hand(48.5, length=48, keeps=keeps)
    assert users(plan, "F9") == [3]
    assert plan.totals.planks == 2


def test_a_leftover_ripped_and_cut_to_length_serves_the_last_row() -> None:
    plan = ripped_at_hand(39.5, length=41, keeps=["right end", "low side"])
    assert users(plan, "F9") == [3]
    assert plan.totals.planks == 2


@pytest.mark.parametrize("plank", [8, 9])
def test_two_leftovers_at_hand_do_not_use_each_other_up(plank: int) -> None:
    offcuts = [
        {"id": "F1", "plank": 8, "length": 20, "width": 7, "keeps": ["left end", "low side"]},
        {"id": "F2", "plank": plank, "length": 20, "width": 7, "keeps": ["right end", "low side"]},
    ]
    data = rooms.request([[0, 0], [40.5, 0], [40.5, 7.5], [0, 7.5]], effort_iterations=30)
    request = read_request({**data, "on_hand": {"offcuts": offcuts}})
    plan = plan_floor(request)
    assert check_plan(request, plan) == ()
    assert {o.id for o in plan.offcuts if o.used_by} == {"F1", "F2"}


def test_a_floor_in_two_parts_is_gone_on_with_in_either() -> None:
    outline: list[list[float]] = [
        [0, 0],
        [100, 0],
        [100, 40],
        [104, 40],
        [104, 0],
        [190, 0],
        [190, 90],
        [104, 90],
    ]
    outline += [[104, 40.4], [100, 40.4], [100, 90], [0, 90]]
    request = read_request(rooms.request(outline, effort_iterations=20))
    count = len(plan_floor(request).pieces)
    for laid in (5, count // 2 + 5, count - 3):
        interrupted(request, laid)


def test_rows_of_several_widths_that_are_down_keep_their_widths() -> None:
    boards = [
        {"length": 48, "width": 9, "per_carton": 3},
        {"length": 48, "width": 7, "per_carton": 4},
        {"length": 48, "width": 5, "per_carton": 3},
    ]
    data = rooms.request([[0, 0], [150, 0], [150, 100], [0, 100]], effort_iterations=20)
    request = read_request({**data, "product": {"boards": boards}})
    again, plan = interrupted(request, 9)
    assert plan.pieces[:9] == again.laid


def test_a_piece_of_a_broken_leftover_is_a_fault() -> None:
    request = request_of("ell")
    laid = fullest(plan_floor(request))
    again, plan = interrupted(request, laid)
    robbed = replace(again, on_hand=OnHand(offcuts=()))
    assert "on_hand" in {fault.rule for fault in check_plan(robbed, plan)}


def test_what_is_down_and_at_hand_leaves_the_rest_of_the_floor_to_planks() -> None:
    request = request_of("study")
    first = plan_floor(request)
    again = replace(request, laid=first.pieces[:40], on_hand=OnHand(planks=50))
    bare = 160.5 * 128 - sum(Polygon(piece.outline).area for piece in again.laid)
    assert plan_floor(again).totals.lower_bound == ceil(bare / (48 * 7))


@pytest.mark.parametrize("stagger", ["half", "third"])
@pytest.mark.parametrize("laid", [15, 35, 99])
def test_fixed_steps_go_on_from_those_that_are_down(stagger: str, laid: int) -> None:
    data = rooms.ell()
    data["rules"]["stagger"] = stagger
    lay = {"start": "high", "first_end": "right"}
    interrupted(read_request({**data, "lay": lay, "effort_iterations": 5}), laid)


def test_a_rest_of_half_a_board_within_what_is_measured_may_be_shared_or_not() -> None:
    request = read_request(rooms.request([[0, 0], [100, 0], [100, 31.998], [0, 31.998]]))
    assert check_plan(request, plan_floor(replace(request, effort_iterations=5))) == ()
