"""What is carried to every row: each plank once, by width and shade."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from functools import cache

from layout.cutsheet.loads import PlankLoad, loads_by_row, loads_in_all
from layout.planner.plan_floor import plan_floor
from layout.values.leftovers import OnHand
from layout.values.plan import Plan
from layout.values.request import PlanRequest, read_request
from tests import rooms

NINE = {"length": 48, "width": 9, "per_carton": 3, "variants": {"A": 1, "B": 2}}
SEVEN = {"length": 48, "width": 7, "per_carton": 4}


@cache
def planned() -> tuple[PlanRequest, Plan]:
    outline = [[0, 0], [110, 0], [110, 60], [0, 60]]
    boards = {"boards": [NINE, SEVEN]}
    request = read_request(rooms.request(outline, product=boards, effort_iterations=20))
    return request, plan_floor(request)


def test_every_plank_is_carried_once() -> None:
    _, plan = planned()
    loads = loads_in_all(loads_by_row(*planned()))
    used = Counter({p.plank: (p.size[1], p.variant) for p in plan.pieces}.values())
    assert {(load.width, load.variant): load.planks for load in loads} == used


def test_a_plank_is_carried_to_the_row_of_its_first_piece() -> None:
    _, plan = planned()
    first: dict[int, int] = {}
    for piece in plan.pieces:
        first.setdefault(piece.plank, piece.row)
    carried = {row.row: sum(load.planks for load in row.loads) for row in loads_by_row(*planned())}
    assert carried == Counter(first.values())


def test_all_planks_of_a_row_are_of_its_width() -> None:
    _, plan = planned()
    widths = {piece.row: piece.size[1] for piece in plan.pieces}
    rows = loads_by_row(*planned())
    assert all({load.width for load in row.loads} == {widths[row.row]} for row in rows)


def test_the_widest_come_first_and_shades_by_name() -> None:
    loads = loads_in_all(loads_by_row(*planned()))
    assert [(load.width, load.variant) for load in loads] == [(9, "A"), (9, "B"), (7, None)]


def test_what_was_begun_before_is_not_carried_again() -> None:
    request, plan = planned()
    offcut = next(offcut for offcut in plan.offcuts if offcut.used_by is not None)
    user = next(piece for piece in plan.pieces if piece.id == offcut.used_by)
    later = replace(plan, pieces=(user,))
    assert loads_by_row(request, later)[0].loads == (
        PlankLoad(width=user.size[1], variant=user.variant, planks=1),
    )
    at_hand = OnHand(offcuts=(replace(offcut, used_by=None),))
    assert loads_by_row(replace(request, on_hand=at_hand), later) == ()
