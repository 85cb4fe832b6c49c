"""Piles once counted: what is refused, what is missing, what cartons bring of it."""

from __future__ import annotations

from typing import Any

import pytest

from layout.values.errors import InputError
from layout.values.goods.piles import SizePiles, cartons_to_buy
from layout.values.request import PlanRequest, read_request, request_to_json
from tests import rooms

NINE = {"length": 48, "width": 9, "per_carton": 3, "variants": {"A": 1, "B": 2}}
SEVEN = {"length": 48, "width": 7, "per_carton": 4}
BOARDS = {"boards": [NINE, SEVEN]}
MIXED = {**SEVEN, "variants": "mixed", "shades": 3}


def pile(width: float, planks: int, variant: str | None = None) -> dict[str, Any]:
    return {"length": 48, "width": width, "variant": variant, "planks": planks}


def request_of(product: dict[str, Any], **on_hand: Any) -> PlanRequest:
    outline = [[0, 0], [110, 0], [110, 50], [0, 50]]
    return read_request(rooms.request(outline, product=product, on_hand=on_hand))


def sizes(*piles: dict[str, Any]) -> tuple[SizePiles, ...]:
    return request_of(BOARDS, piles=list(piles)).sizes


def test_piles_are_read_back_as_they_were_written() -> None:
    request = request_of(BOARDS, piles=[pile(9, 4, "A"), pile(9, 0, "B"), pile(7, 9)])
    assert read_request(request_to_json(request)) == request


@pytest.mark.parametrize(
    ("piles", "message"),
    [
        ([pile(8, 4)], "on_hand.piles[0].width: 48 x 8; accepted: 48 x 9 or 48 x 7"),
        (
            [pile(9, 4, "C")],
            "on_hand.piles[0].variant: 'C' can't be used; accepted: A, B",
        ),
        ([pile(9, 4)], "on_hand.piles[0].variant: missing; accepted: A, B"),
        (
            [pile(9, 4, "A"), pile(7, 4, "A")],
            (
                "on_hand.piles[1].variant: 'A' can't be used; "
                "accepted: none: all boards of width 7 look alike"
            ),
        ),
        (
            [pile(9, 4, "A"), pile(9, 2, "A")],
            (
                'on_hand.piles: width 9, variant "A" stands 2 times; '
                "accepted: each width and variant once"
            ),
        ),
        (
            [pile(7, 0), pile(9, 0, "A")],
            "on_hand.piles: no plank in any pile; accepted: 1 plank or more, or no piles at all",
        ),
        (
            [pile(7, -1)],
            "on_hand.piles[0].planks: -1 can't be used; accepted: 0 to 100000",
        ),
    ],
)
def test_piles_that_cannot_be_used_are_refused(piles: list[dict[str, Any]], message: str) -> None:
    with pytest.raises(InputError) as refused:
        request_of(BOARDS, piles=piles)
    assert str(refused.value) == message


def test_planks_at_hand_are_all_piles_together() -> None:
    with pytest.raises(InputError) as refused:
        request_of(BOARDS, planks=12, piles=[pile(9, 4, "A"), pile(7, 9)])
    accepted = "accepted: 13, all piles together"
    assert str(refused.value) == f"on_hand.planks: 12 can't be used; {accepted}"


def test_without_a_number_the_piles_say_how_many_planks_there_are() -> None:
    on_hand = request_of(BOARDS, piles=[pile(9, 4, "A"), pile(7, 9)]).on_hand
    assert on_hand is not None
    assert on_hand.whole == 13


def test_a_mix_nobody_knows_is_sorted_into_letters() -> None:
    assert request_of(MIXED, piles=[pile(7, 4, "A"), pile(7, 2, "C")]).sizes[0].shaded
    with pytest.raises(InputError, match=r"piles\[0\]\.variant: 'D' .*accepted: A, B, C"):
        request_of(MIXED, piles=[pile(7, 4, "D")])


def test_piles_are_sorted_by_shade_or_not_at_all() -> None:
    with pytest.raises(InputError, match="a variant for every pile, or for none"):
        request_of(MIXED, piles=[pile(7, 4, "A"), pile(7, 2)])


def test_cartons_bring_what_the_piles_lack() -> None:
    """4 planks of 9 in are missing: 2 cartons; 9 planks of 7 in: 3 cartons."""
    there = sizes(pile(9, 4, "A"), pile(7, 1))
    assert cartons_to_buy(there, (8, 1)) == 2
    assert cartons_to_buy(there, (8, 10)) == 3


def test_enough_in_the_piles_needs_no_carton() -> None:
    there = sizes(pile(9, 4, "A"), pile(9, 2, "B"), pile(7, 5))
    assert cartons_to_buy(there, (6, 5)) == 0
    assert there[0].supply(6, 0) == {"A": 4, "B": 2}


def test_what_is_missing_comes_in_the_shades_that_cartons_hold() -> None:
    """2 cartons bring 2 of A and 4 of B; A, of which there are none, is taken first."""
    there = sizes(pile(9, 3, "B"), pile(7, 1))
    assert there[0].supply(6, 1) == {"B": 5, "A": 1}
    assert there[0].supply(6, 2) == {"B": 4, "A": 2}
