"""Piles by width and shade: which there are, whether they add up, how a floor keeps them."""

from __future__ import annotations

from decimal import Decimal

from jobs.domain.floors.piles import (
    CountedPile,
    Miscount,
    miscounts,
    pile_kinds,
    piles_from,
    stored_piles,
)

WIDE, NARROW = Decimal("228.6"), Decimal(127)
SIZES = ((WIDE, 3), (NARROW, 4))


def counted(width: Decimal, variant: str, planks: int) -> CountedPile:
    """Return a pile of so many planks."""
    return CountedPile(width_mm=width, variant=variant, planks=planks)


def test_a_pile_stands_for_every_shade_of_every_width() -> None:
    kinds = pile_kinds(SIZES, ({"A": 1, "B": 2}, {"A": 4}), None)
    assert [(kind.width_mm, kind.variant) for kind in kinds] == [
        (WIDE, "A"),
        (WIDE, "B"),
        (NARROW, "A"),
    ]


def test_shades_that_no_carton_tells_are_sorted_by_letter() -> None:
    kinds = pile_kinds(SIZES[:1], ({},), 3)
    assert [kind.variant for kind in kinds] == ["A", "B", "C"]


def test_boards_that_look_alike_make_one_pile_a_width() -> None:
    assert [kind.variant for kind in pile_kinds(SIZES, ({}, {}), None)] == ["", ""]


def test_whole_cartons_hold_what_was_counted() -> None:
    kinds = pile_kinds(SIZES, ({"A": 1, "B": 2}, {}), None)
    piles = (counted(WIDE, "A", 4), counted(WIDE, "B", 8), counted(NARROW, "", 16))
    assert miscounts(kinds, piles, 4) == ()


def test_a_width_that_is_miscounted_is_named_with_what_the_cartons_hold() -> None:
    kinds = pile_kinds(SIZES, ({}, {}), None)
    piles = (counted(WIDE, "", 12), counted(NARROW, "", 15))
    assert miscounts(kinds, piles, 4) == (Miscount(width_mm=NARROW, counted=15, held=16),)


def test_a_floor_keeps_its_piles_but_for_empty_ones() -> None:
    piles = (counted(WIDE, "A", 4), counted(WIDE, "B", 0))
    assert piles_from(stored_piles(piles)) == piles[:1]
