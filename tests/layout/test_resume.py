"""Going on from what is down: laid pieces stay, leftovers at hand are used, the judge agrees."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest

from layout.errors import InputError, NoPlanError
from layout.judge import check_plan
from layout.plan import Offcut, Plan
from layout.planner import plan_floor
from layout.request import OnHand, PlanRequest, read_request
from tests import rooms


def asked(name: str, **lay: str) -> PlanRequest:
    return read_request({**rooms.ROOMS[name](), "lay": lay, "effort_iterations": 30})


def waiting(plan: Plan, laid: int) -> tuple[Offcut, ...]:
    """Return the leftovers of planks cut so far that a piece to come would be cut from."""
    done = {piece.id for piece in plan.pieces[:laid]}
    cut = {piece.plank for piece in plan.pieces[:laid]}
    found: dict[int, Offcut] = {}
    for offcut in plan.offcuts:
        if offcut.plank in cut and offcut.used_by is not None and offcut.used_by not in done:
            found.setdefault(offcut.plank, replace(offcut, used_by=None))
    return tuple(found.values())


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
    interrupted(asked(name), laid)


@pytest.mark.parametrize("start", ["low", "high"])
@pytest.mark.parametrize("first_end", ["left", "right"])
def test_every_hand_goes_on_from_its_own_end(start: str, first_end: str) -> None:
    interrupted(asked("ell", start=start, first_end=first_end), 20)


def test_laid_pieces_stay_as_they_are() -> None:
    request, plan = interrupted(asked("study"), 20)
    assert plan.pieces[:20] == request.laid


def fullest(plan: Plan) -> int:
    """Return after how many pieces most leftovers wait."""
    return max(range(1, len(plan.pieces)), key=lambda laid: len(waiting(plan, laid)))


def test_an_offcut_at_hand_is_no_new_plank() -> None:
    request = asked("ell")
    first = plan_floor(request)
    laid = fullest(first)
    with_, without = (
        plan_floor(replace(request, laid=first.pieces[:laid], on_hand=OnHand(offcuts=offcuts)))
        for offcuts in (waiting(first, laid), ())
    )
    assert with_.totals.planks < without.totals.planks


def test_offcuts_at_hand_keep_their_label() -> None:
    laid = fullest(plan_floor(asked("ell")))
    request, plan = interrupted(asked("ell"), laid)
    labels = {offcut.id for offcut in request.on_hand.offcuts} if request.on_hand else set()
    used = {offcut.id for offcut in plan.offcuts if offcut.used_by is not None}
    assert used & labels


def test_what_is_missing_is_counted_from_what_is_left() -> None:
    request, plan = interrupted(asked("study"), 20)
    short = replace(request, on_hand=OnHand(planks=plan.totals.planks - 2))
    again = plan_floor(short)
    assert check_plan(short, again) == ()
    assert again.totals.shortage_planks == again.totals.planks - (plan.totals.planks - 2)


def test_a_laid_board_off_the_row_lines_is_refused() -> None:
    request = asked("study")
    first = plan_floor(request)
    moved = replace(first.pieces[20], origin=(first.pieces[20].origin[0], 60.0))
    with pytest.raises(InputError, match=r"laid\[1\]\.origin"):
        plan_floor(replace(request, laid=(first.pieces[0], moved)))


def test_a_miscounted_row_is_refused() -> None:
    request = asked("study")
    piece = replace(plan_floor(request).pieces[0], row=3)
    with pytest.raises(InputError, match=r"laid\[0\]\.row"):
        plan_floor(replace(request, laid=(piece,)))


def test_a_finished_floor_leaves_nothing_to_plan() -> None:
    request = asked("study")
    with pytest.raises(NoPlanError, match="nothing is left"):
        plan_floor(replace(request, laid=plan_floor(request).pieces))


@pytest.mark.parametrize("seed", range(6))
def test_random_interruptions_are_judged_right(seed: int) -> None:
    chance = Random(seed)
    name = chance.choice(["pantry", "hair_over_three", "bay", "island", "register"])
    request = asked(name)
    count = len(plan_floor(request).pieces)
    interrupted(request, chance.randrange(1, count))
