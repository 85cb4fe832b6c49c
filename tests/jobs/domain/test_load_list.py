"""The load list: materials of all floors together, cartons with the piles that they make."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from jobs.domain.load_list import load_list, sorting_content
from jobs.domain.plans.sorting import BoardPile, Sorting
from jobs.domain.quantities import quantity


def a_floor(product: str = "Slate", **counts: int) -> dict[str, Any]:
    """A floor of a packet with so many planks of each shade, 7 in wide."""
    piles = tuple(
        BoardPile(width=7, wide='7"', variant=name, planks=planks)
        for name, planks in counts.items()
    )
    sorting = Sorting(piles=piles, rows=(), how="Sort by shade.") if counts else None
    return {"product": product} | sorting_content(sorting)


CARTONS = [
    quantity("cartons", 3, "counted", zone="Den", item="Slate"),
    quantity("cartons", 2, "counted", zone="Hall", item="Slate"),
]


def test_materials_are_loaded_with_their_amounts_and_floors_together() -> None:
    others = [
        quantity("pieces", 40, "counted", zone="Den"),
        quantity("disposal", Decimal(120), "measured", zone="Den"),
    ]
    assert [(load["label"], load["said"]) for load in load_list([*CARTONS, *others])] == [
        ("Flooring", "5 cartons")
    ]


def test_cartons_counted_by_the_job_are_loaded_as_they_are() -> None:
    of_job = [
        quantity("cartons", 5, "counted", item="Slate"),
        quantity("cartons_attic", 1, "counted", item="Slate"),
        quantity("cartons", 1, "counted", item="Larch"),
    ]
    assert [(load["item"], load["said"]) for load in load_list(of_job)] == [
        ("Slate", "5 cartons, one lot, one of them for the attic"),
        ("Larch", "1 carton"),
    ]


def test_planks_of_all_floors_of_a_product_are_told_together() -> None:
    (load,) = load_list(CARTONS, [a_floor(A=12, B=8), a_floor(A=3, C=1)])
    assert load["piles"] == '15 of A, 8 of B, 1 of C, 7" wide'


def test_how_to_sort_is_said_once() -> None:
    (load,) = load_list(CARTONS, [a_floor(A=12), a_floor(A=3)])
    assert load["sort"] == "Sort by shade."


def test_planks_of_another_product_are_no_part_of_it() -> None:
    (load,) = load_list(CARTONS, [a_floor("Larch", A=12)])
    assert load["piles"] == ""


def test_cartons_of_boards_that_are_all_alike_make_no_piles() -> None:
    (load,) = load_list(CARTONS, [a_floor()])
    assert (load["piles"], load["sort"]) == ("", "")
