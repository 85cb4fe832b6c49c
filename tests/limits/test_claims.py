"""What a plan says of itself: two plans either side of what the judge takes as right.

A figure to saw by may be told within 0.02 in of what the outline shows, a row mark within 0.04 in,
areas within half a square inch or one; whole numbers not at all.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from layout.judge.check import check_plan
from layout.judge.cutting.stacks import wrong_stacks
from layout.judge.view import View
from layout.values.plan import Cut, Plan, RowMarks, RuleWarning
from layout.values.request import PlanRequest
from tests.layout.three_rows import offcut, piece, plan, request, totals, with_piece

Floor = tuple[PlanRequest, Plan]
Make = Callable[[float], Floor]


def recut(name: str, **changes: Any) -> Floor:
    """Return the floor, the one cut of a piece told otherwise."""
    (there,) = (each for each in plan().pieces if each.id == name)
    (cut,) = there.cuts
    return request(), with_piece(plan(), replace(there, cuts=(replace(cut, **changes),)))


def figure(inches: float) -> Floor:
    """Ender 1-3 is cut at 28 in."""
    return recut("1-3", at=inches, limits=(8, 28))


def most_below(inches: float) -> Floor:
    """Limits of ender 1-3 hold its figure of 28 in."""
    return recut("1-3", limits=(8, inches))


def least_above(inches: float) -> Floor:
    """Limits of ender 2-3 hold its figure of 12 in."""
    return recut("2-3", limits=(inches, 48))


def past_the_plank(inches: float) -> Floor:
    """Limits of ender 2-3 end with its plank of 48 in."""
    return recut("2-3", limits=(8, inches))


def into_another(inches: float) -> Floor:
    """Ender 1-3 shares plank 3: 48 - 19.875 - 0.125 of the saw leave 28 in."""
    return recut("1-3", limits=(8, inches))


def marks(inches: float) -> Floor:
    """Rows meet 7.25 and 14.25 in from the start wall."""
    marked = RowMarks(source="edge 0", marks=(7.25, inches))
    return request(), plan(row_marks=(marked,))


def leftover(inches: float) -> Floor:
    """Offcut F2 is 23.875 in long."""
    rest = list(plan().offcuts)
    rest[1] = replace(rest[1], length=inches)
    return request(), plan(offcuts=tuple(rest))


def counted(**changes: Any) -> Floor:
    return request(), plan(totals=totals(**changes))


def looked(inches: float) -> Floor:
    """The closest joints are 16 in apart."""
    look = replace(totals().look, smallest_offset=inches)
    return counted(look=look)


def warned(inches: float) -> Floor:
    """The joints of rows 1 and 2 stand 16 in apart where 17 are asked for; the warning says so."""
    owned = RuleWarning(
        rule="min_joint_offset", where="rows 1 and 2", value=inches, limit=17, text="Close."
    )
    return request(rules={"min_joint_offset": 17}), plan(warnings=(owned,))


def areas(slack: float) -> Floor:
    return counted(floor_area=100.5 * 21.5 + slack)


def laid(slack: float) -> Floor:
    return counted(laid_area=2100 + slack)


def wasted(slack: float) -> Floor:
    return counted(waste=8 * 336 / 2100 - 1 + slack)


CLAIMS: dict[str, tuple[Make, float, float, str]] = {
    "the figure of a cut": (figure, 28.015, 28.035, "cuts"),
    "the most a cut may be": (most_below, 28.0, 27.98, "limits"),
    "the least a cut may be": (least_above, 12.0, 12.02, "limits"),
    "a limit past the plank": (past_the_plank, 48.0, 48.02, "limits"),
    "a limit in another piece": (into_another, 28.0, 28.02, "limits"),
    "a row mark": (marks, 14.28, 14.3, "row_marks"),
    "the length of an offcut": (leftover, 23.89, 23.91, "offcut"),
    "the closest joints": (looked, 16.015, 16.035, "totals"),
    "the value of a warning": (warned, 16.015, 16.035, "warning"),
    "the area of the floor": (areas, 0.49, 0.51, "totals"),
    "the area laid": (laid, 0.98, 1.02, "totals"),
    "the share of waste": (wasted, 0.0009, 0.0011, "totals"),
}


@pytest.mark.parametrize("name", CLAIMS)
def test_a_claim_is_refused_just_beyond_its_limit(name: str) -> None:
    make, keeps, breaks, rule = CLAIMS[name]
    assert rule not in {fault.rule for fault in check_plan(*make(keeps))}
    assert rule in {fault.rule for fault in check_plan(*make(breaks))}


COUNTS = {
    "planks": 8,
    "cartons": 1,
    "crosscuts": 6,
    "rips": 0,
    "notches": 0,
    "full_pieces": 3,
    "rack_max": 1,
}


@pytest.mark.parametrize("name", COUNTS)
def test_a_count_is_refused_one_either_side(name: str) -> None:
    for off in (-1, 0, 1):
        broken = {(f.rule, f.where) for f in check_plan(*counted(**{name: COUNTS[name] + off}))}
        assert (("totals", name) in broken) == bool(off)


def test_rips_are_told_from_notches() -> None:
    # A rip told of a whole piece is a fault of its own; the count follows what is told.
    whole = replace(plan().pieces[1], cuts=(Cut(kind="rip", measure_from="low side", at=6.0),))
    ripped = with_piece(plan(), whole)
    for rips, refused in ((0, True), (1, False)):
        counts = replace(ripped, totals=totals(rips=rips))
        broken = {(fault.rule, fault.where) for fault in check_plan(request(), counts)}
        assert (("totals", "rips") in broken) == refused


@pytest.mark.parametrize(("waiting", "refused"), [(10, False), (11, True)])
def test_a_stack_holds_ten_offcuts(waiting: int, refused: bool) -> None:
    row = [piece(1, place, place, 9.0 * place, 9.0, 0) for place in range(1, waiting + 1)]
    aside = [offcut(f"F{each.place}", each.plank, 0, 9, each.id) for each in row]
    crowded = View(request=request(), plan=plan(pieces=tuple(row), offcuts=tuple(aside)))
    assert [fault.rule for fault in wrong_stacks(crowded, {})] == ["stack"] * refused


@pytest.mark.parametrize(("planks", "refused"), [(4, False), (5, True)])
def test_a_variant_is_used_no_more_than_the_cartons_hold(planks: int, refused: bool) -> None:
    shades = {"A": 4, "B": 6}
    named = tuple(replace(p, variant="A" if p.plank <= planks else "B") for p in plan().pieces)
    faults = check_plan(
        request(product={"length": 48, "width": 7, "per_carton": 10, "variants": shades}),
        plan(pieces=named),
    )
    assert ("variant A" in {fault.where for fault in faults}) == refused


def test_a_bound_is_refused_one_above_its_proof() -> None:
    # Eight planks; the area of 2100 in2 proves 7 at 336 in2 a plank: 6.25, the next whole one.
    assert "proof" not in {f.rule for f in check_plan(*counted(lower_bound=7))}
    assert "proof" in {f.rule for f in check_plan(*counted(lower_bound=8))}


def test_a_plank_has_one_size_within_what_is_measured() -> None:
    for inches, refused in ((0.009, False), (0.02, True)):
        other = replace(piece(3, 1, 3, 0, 19.875, 28.125), size=(48.0 - inches, 7.0))
        faults = check_plan(request(), with_piece(plan(), other))
        assert (("size", "plank 3") in {(f.rule, f.where) for f in faults}) == refused


def test_no_other_cut_is_told_where_none_is_seen() -> None:
    whole = replace(plan().pieces[1], cuts=(Cut(kind="rip", measure_from="low side", at=7.0),))
    assert "cuts" in {fault.rule for fault in check_plan(request(), with_piece(plan(), whole))}
