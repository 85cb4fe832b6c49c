"""The judge on widths and variants: right plans stand, each falsehood about them is found."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from layout.judge.check import check_plan
from layout.planner.plan_floor import plan_floor
from layout.values.goods.product_form import read_product
from layout.values.leftovers import OnHand
from layout.values.plan import Piece, Plan, RuleWarning
from layout.values.request import PlanRequest, read_request
from tests import rooms


def request_of(product: dict[str, Any], **changes: Any) -> PlanRequest:
    outline = [[0, 0], [110, 0], [110, 50], [0, 50]]
    return read_request(rooms.request(outline, product=product, effort_iterations=20, **changes))


SHADED: dict[str, Any] = {
    "length": 48,
    "width": 7,
    "per_carton": 10,
    "variants": dict.fromkeys("ABCDE", 2),
}
TWO_SHADES: dict[str, Any] = {
    "length": 48,
    "width": 7,
    "per_carton": 10,
    "variants": {"A": 5, "B": 5},
}
MIXED: dict[str, Any] = {
    "boards": [
        {"length": 48, "width": 7, "per_carton": 4},
        {"length": 48, "width": 5, "per_carton": 4},
    ]
}


@cache
def planned(name: str) -> tuple[PlanRequest, Plan]:
    request = request_of({"shaded": SHADED, "two": TWO_SHADES, "mixed": MIXED}[name])
    plan = plan_floor(request)
    assert check_plan(request, plan) == ()
    return request, plan


def faults(name: str, plan: Plan) -> set[tuple[str, str]]:
    return {(fault.rule, fault.where) for fault in check_plan(planned(name)[0], plan)}


def shaded(plan: Plan, variant: str | None, plank: int) -> Plan:
    """Return the plan with another variant for one plank."""
    pieces = tuple(
        replace(piece, variant=variant) if piece.plank == plank else piece for piece in plan.pieces
    )
    return replace(plan, pieces=pieces)


def neighbors(plan: Plan) -> tuple[Piece, Piece]:
    """Return the first two pieces of a row."""
    return plan.pieces[0], plan.pieces[1]


def test_a_like_neighbor_must_be_counted() -> None:
    _, plan = planned("two")
    (warning,) = plan.warnings
    fewer = replace(warning, value=warning.value - 1)
    assert ("variants", "floor") in faults("two", replace(plan, warnings=(fewer,)))


def test_a_count_left_out_is_caught() -> None:
    _, plan = planned("two")
    assert ("variants", "floor") in faults("two", replace(plan, warnings=()))


def test_a_count_given_twice_is_caught() -> None:
    _, plan = planned("two")
    (warning,) = plan.warnings
    halves = (replace(warning, value=warning.value - 1), replace(warning, value=1))
    assert ("variants", "floor") in faults("two", replace(plan, warnings=halves))


def test_a_warning_of_like_pieces_where_none_touch_is_caught() -> None:
    _, plan = planned("shaded")
    assert plan.warnings == ()
    for value in (0, 1):
        warning = RuleWarning(rule="variants", where="floor", value=value, limit=0, text="x")
        assert ("variants", "floor") in faults("shaded", replace(plan, warnings=(warning,)))


def test_two_neighbors_made_alike_are_caught() -> None:
    _, plan = planned("shaded")
    first, second = neighbors(plan)
    assert ("variants", "floor") in faults("shaded", shaded(plan, first.variant, second.plank))


def test_more_of_a_variant_than_the_cartons_hold_is_caught() -> None:
    _, plan = planned("shaded")
    for piece in plan.pieces:
        plan = shaded(plan, "A", piece.plank)
    assert ("variants", "variant A") in faults("shaded", plan)


@pytest.mark.parametrize("variant", ["Z", None])
def test_a_variant_of_another_product_is_caught(variant: str | None) -> None:
    _, plan = planned("shaded")
    plank = plan.pieces[0].plank
    assert ("variants", f"plank {plank}") in faults("shaded", shaded(plan, variant, plank))


def test_a_variant_where_all_boards_look_alike_is_caught() -> None:
    _, plan = planned("mixed")
    plank = plan.pieces[0].plank
    assert ("variants", f"plank {plank}") in faults("mixed", shaded(plan, "A", plank))


def thrice() -> tuple[PlanRequest, Plan]:
    """Six boards of 7 in to one of 4: rows of 7 come thrice running, whatever the order."""
    boards = [
        {"length": 48, "width": 7, "per_carton": 12},
        {"length": 48, "width": 4, "per_carton": 1},
    ]
    request = request_of({"boards": boards})
    return request, plan_floor(request)


def test_rows_of_one_width_too_many_are_counted() -> None:
    request, plan = thrice()
    (warning,) = (w for w in plan.warnings if w.rule == "widths")
    rows = {piece.row: piece.size[1] for piece in plan.pieces}
    widths = [rows[number] for number in sorted(rows)]
    assert warning.value == sum(
        widths[i] == widths[i + 1] == widths[i + 2] for i in range(len(widths) - 2)
    )
    assert check_plan(request, plan) == ()


def test_rows_of_one_width_too_many_must_be_warned_of() -> None:
    request, plan = thrice()
    silent = replace(plan, warnings=tuple(w for w in plan.warnings if w.rule != "widths"))
    assert ("widths", "floor") in {(f.rule, f.where) for f in check_plan(request, silent)}


def test_a_warning_of_widths_where_none_run_is_caught() -> None:
    _, plan = planned("mixed")
    warning = RuleWarning(rule="widths", where="floor", value=1, limit=0, text="x")
    assert ("widths", "floor") in faults("mixed", replace(plan, warnings=(warning,)))


def test_a_row_of_two_widths_is_caught() -> None:
    _, plan = planned("mixed")
    piece = plan.pieces[0]
    other = 5.0 if piece.size[1] == 7.0 else 7.0
    pieces = (replace(piece, size=(48.0, other)), *plan.pieces[1:])
    assert ("rows", f"row {piece.row}") in faults("mixed", replace(plan, pieces=pieces))


def test_cartons_that_lack_a_width_are_caught() -> None:
    _, plan = planned("mixed")
    fewer = replace(plan.totals, cartons=plan.totals.cartons - 1)
    assert ("totals", "cartons") in faults("mixed", replace(plan, totals=fewer))


def test_a_proof_for_fewer_cartons_than_the_plan_takes_is_caught() -> None:
    request, plan = planned("mixed")
    more = request_of(MIXED, spares=20)
    bought = plan_floor(more)
    assert bought.totals.cartons > plan.totals.cartons
    proof, bound = plan.proof, plan.totals.lower_bound
    claiming = replace(bought, proof=proof, totals=replace(bought.totals, lower_bound=bound))
    assert ("proof", "totals") in {(f.rule, f.where) for f in check_plan(more, claiming)}
    assert ("proof", "totals") not in {(f.rule, f.where) for f in check_plan(request, plan)}


def test_shades_that_lie_already_are_neighbors_like_any_other() -> None:
    request, plan = planned("shaded")
    laid = tuple(piece for piece in plan.pieces if piece.row <= 2)
    again = replace(request, laid=laid)
    rest = plan_floor(again)
    assert check_plan(again, rest) == ()
    assert [p.variant for p in rest.pieces[: len(laid)]] == [p.variant for p in laid]
    third = next(p for p in rest.pieces if p.row == 3)
    below = next(p for p in laid if p.row == 2)
    assert ("variants", "floor") in {
        (f.rule, f.where) for f in check_plan(again, shaded(rest, below.variant, third.plank))
    }


def test_a_plank_begun_keeps_a_shade_that_the_product_no_longer_has() -> None:
    request, plan = planned("shaded")
    laid = tuple(piece for piece in plan.pieces if piece.row <= 5)
    planks = {piece.plank for piece in laid}
    left = [o for o in plan.offcuts if o.plank in planks and o.used_by is not None]
    done = {piece.id for piece in laid}
    rest = tuple(replace(o, used_by=None) for o in left if o.used_by not in done)
    assert rest
    for product in (SHADED, {**SHADED, "variants": None}):
        other = replace(request, product=read_product(product))
        again = replace(other, laid=laid, on_hand=OnHand(offcuts=rest))
        assert check_plan(again, plan_floor(again)) == ()
