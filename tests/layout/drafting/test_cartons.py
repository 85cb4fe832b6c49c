"""What a plan takes of cartons and piles: cartons, the supply of its shades, what is missing."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pytest

from layout.drafting.cartons import cartons_for, shortage_of, spread_rule, supplies_for
from layout.values.advice import ShortPile
from layout.values.request import PlanRequest, read_request
from tests import rooms

NINE = {"length": 48, "width": 9, "per_carton": 3, "variants": {"A": 1, "B": 2}}
SEVEN = {"length": 48, "width": 7, "per_carton": 4}


def request_of(product: dict[str, Any] | None = None, **changes: Any) -> PlanRequest:
    outline = [[0, 0], [110, 0], [110, 50], [0, 50]]
    return read_request(
        rooms.request(outline, product=product or {"boards": [NINE, SEVEN]}, **changes)
    )


def counted(*piles: tuple[float, str | None, int], **changes: Any) -> PlanRequest:
    rows = [{"length": 48, "width": w, "variant": v, "planks": n} for w, v, n in piles]
    return request_of(on_hand={"piles": rows}, **changes)


@pytest.mark.parametrize(
    ("nines", "sevens", "spares", "cartons"),
    [(3, 4, 0, 1), (4, 4, 0, 2), (3, 9, 0, 3), (3, 4, 1, 2), (0, 0, 0, 0)],
)
def test_cartons_hold_every_width_and_the_spares(
    nines: int, sevens: int, spares: int, cartons: int
) -> None:
    widths = [9.0] * nines + [7.0] * sevens
    assert cartons_for(request_of().product, widths, spares) == cartons


def test_shades_come_from_the_cartons_of_their_width() -> None:
    assert supplies_for(request_of(), [9.0] * 4 + [7.0]) == {9.0: {"A": 2, "B": 4}}


def test_shades_come_from_the_piles_and_no_more_than_is_missing_from_cartons() -> None:
    request = counted((9, "A", 4), (7, None, 1))
    assert supplies_for(request, [9.0] * 3) == {9.0: {"A": 4}}
    assert supplies_for(request, [9.0] * 6) == {9.0: {"A": 4, "B": 2}}


def kinds(*counts: tuple[float, str | None, int]) -> Sequence[tuple[float, str | None]]:
    return [(width, name) for width, name, count in counts for _ in range(count)]


def test_nothing_is_short_where_the_piles_hold_all() -> None:
    short = shortage_of(counted((9, "A", 4), (7, None, 9)), kinds((9, "A", 4), (7, None, 8)))
    assert (short.planks, short.cartons, short.piles) == (0, 0, ())


def test_what_is_missing_is_told_by_width_and_shade() -> None:
    """2 of B are in one carton, 6 planks of 7 in in two."""
    short = shortage_of(
        counted((9, "A", 4), (7, None, 2)), kinds((9, "A", 4), (9, "B", 2), (7, None, 8))
    )
    assert (short.planks, short.cartons) == (8, 2)
    assert short.piles == (
        ShortPile(width=9.0, variant="B", planks=2),
        ShortPile(width=7.0, variant=None, planks=6),
    )


def test_spares_are_short_where_the_piles_hold_no_more_than_the_floor() -> None:
    request = counted((9, "A", 4), (7, None, 8), spares=9)
    short = shortage_of(request, kinds((9, "A", 4), (7, None, 7)))
    assert (short.planks, short.cartons, short.piles) == (8, 2, ())


@pytest.mark.parametrize(
    ("shades", "rule"),
    [
        (2, "no like plank end to end"),
        (3, "no like plank end to end, and no three together"),
        (4, "no like plank within 2 rows and 1 plank"),
        (9, "no like plank within 2 rows and 1 plank"),
    ],
)
def test_few_shades_have_a_rule_that_they_can_keep(shades: int, rule: str) -> None:
    spread = spread_rule(request_of({**SEVEN, "variants": "mixed", "shades": shades}))
    assert spread is not None
    assert (spread.shades, spread.rule) == (shades, rule)


def test_shades_that_are_known_need_no_rule() -> None:
    assert spread_rule(request_of()) is None
