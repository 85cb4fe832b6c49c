"""How opened cartons are sorted: each plank in one pile, each row from its piles, in words."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest

from jobs.domain.plans.sorting import Sorting, sorting_of
from layout.planner.plan_floor import plan_floor
from layout.values.plan import Plan
from layout.values.request import PlanRequest, read_request
from tests import rooms

OUTLINE = [[0, 0], [100, 0], [100, 60], [0, 60]]
PLAIN = {"length": 48, "width": 7, "per_carton": 10}
SHADED = PLAIN | {"variants": {"A": 6, "B": 4}}
WIDTHS = {
    "boards": [
        {"length": 48, "width": 9, "per_carton": 3, "variants": {"A": 1, "B": 2}},
        {"length": 48, "width": 7, "per_carton": 4},
    ]
}
MIXED = PLAIN | {"variants": "mixed", "shades": 4}


def planned(product: dict[str, Any], **more: Any) -> tuple[PlanRequest, Plan]:
    form = rooms.request(OUTLINE, product=product, effort_iterations=20, format=2, **more)
    request = read_request(form)
    return request, plan_floor(request)


@cache
def of_two_widths() -> tuple[Sorting, Plan]:
    request, plan = planned(WIDTHS)
    sorting = sorting_of(request, plan)
    assert sorting
    return sorting, plan


def test_boards_that_are_all_alike_are_not_sorted() -> None:
    assert sorting_of(*planned(PLAIN)) is None


def test_every_plank_lies_in_one_pile() -> None:
    sorting, plan = of_two_widths()
    assert sum(pile.planks for pile in sorting.piles) == plan.totals.planks


def test_piles_are_told_by_width_and_shade() -> None:
    sorting, _ = of_two_widths()
    nine_a, nine_b, seven = (pile.planks for pile in sorting.piles)
    assert sorting.words == f'{nine_a} of A, {nine_b} of B, 9" wide; {seven}, 7" wide'


def test_a_width_off_the_tape_is_told_as_its_maker_says_it() -> None:
    shaded = {"length": 48, "width": 7.05, "per_carton": 10, "variants": {"A": 6, "B": 4}}
    sorting = sorting_of(*planned(shaded))
    assert sorting
    assert {pile.wide for pile in sorting.piles} == {"7.05\u00a0in"}


def test_a_row_names_the_piles_that_it_is_begun_from() -> None:
    sorting, plan = of_two_widths()
    width = plan.pieces[0].size[1]
    assert sorting.of_row(1).endswith(f'{width:g}" wide')
    assert sorting.of_row(99) == ""


def test_a_width_that_all_rows_share_is_told_with_its_shades() -> None:
    sorting = sorting_of(*planned(SHADED))
    assert sorting
    assert {pile.variant for pile in sorting.piles} == {"A", "B"}
    assert "one pile for each shade" in sorting.how


@pytest.mark.parametrize(
    ("product", "said"),
    [(WIDTHS, "one pile for each width and shade"), (MIXED, "mix them. 4 shades, spread by eye")],
)
def test_how_to_sort_goes_with_what_the_carton_holds(product: dict[str, Any], said: str) -> None:
    sorting = sorting_of(*planned(product))
    assert sorting
    assert said in sorting.how


def test_counted_piles_are_kept_as_they_are() -> None:
    piles = [
        {"length": 48, "width": 7, "variant": shade, "planks": count}
        for shade, count in (("A", 20), ("B", 10))
    ]
    sorting = sorting_of(*planned(SHADED, on_hand={"piles": piles}))
    assert sorting
    assert "as they were counted" in sorting.how
