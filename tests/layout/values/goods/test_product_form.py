"""A product in its JSON form: shades by width, shades of an unknown mix, what makes no carton."""

from __future__ import annotations

from typing import Any

import pytest

from layout.values.errors import InputError
from layout.values.goods.product_form import product_to_json, read_product

NINE: dict[str, Any] = {"length": 48, "width": 9, "per_carton": 3, "variants": {"A": 1, "B": 2}}
SEVEN: dict[str, Any] = {"length": 48, "width": 7, "per_carton": 4, "variants": {"B": 2, "C": 2}}
PLAIN: dict[str, Any] = {"length": 48, "width": 5, "per_carton": 3}


def test_every_width_has_its_shades() -> None:
    product = read_product({"boards": [NINE, SEVEN, PLAIN]})
    assert [product.mix_of(board) for board in product.boards] == [
        {"A": 1, "B": 2},
        {"B": 2, "C": 2},
        {},
    ]


@pytest.mark.parametrize(
    "form",
    [
        {"boards": [NINE, SEVEN, PLAIN]},
        {"boards": [PLAIN, {**PLAIN, "width": 7}], "variants": "mixed", "shades": 3},
        {**PLAIN, "variants": {"A": 1, "B": 2}},
        {**PLAIN, "variants": "mixed"},
    ],
)
def test_a_product_is_read_back_as_it_was_written(form: dict[str, Any]) -> None:
    product = read_product(form)
    assert read_product(product_to_json(product)) == product


def test_a_carton_of_unknown_mix_has_four_shades_unless_told() -> None:
    assert read_product({**PLAIN, "variants": "mixed"}).shades == 4
    assert read_product({**PLAIN, "variants": "mixed", "shades": 6}).shades == 6


def test_one_width_of_unknown_mix_makes_the_whole_product_so() -> None:
    one = {**PLAIN, "variants": "mixed", "shades": 5}
    product = read_product({"boards": [one, {**PLAIN, "width": 7}]})
    assert product.shades == 5
    assert product.shade_names == ("A", "B", "C", "D", "E")


@pytest.mark.parametrize(
    ("form", "message"),
    [
        (
            {"boards": [NINE, {**SEVEN, "variants": {"B": 2, "C": 1}}]},
            (
                "product.boards[1].variants: 3 boards; accepted: counts that make up one carton, "
                "4 boards of width 7"
            ),
        ),
        (
            {"boards": [NINE, {**SEVEN, "variants": {"B": 4, "C": 0}}]},
            "product.boards[1].variants.C: 0 can't be used; accepted: 1 or more",
        ),
        (
            {"boards": [NINE, {**SEVEN, "variants": "mixed"}]},
            (
                'product.variants: counts of shades beside "mixed"; '
                'accepted: counts for every width, or "mixed"'
            ),
        ),
        (
            {"boards": [NINE, {**SEVEN, "variants": "blended"}]},
            (
                "product.boards[1].variants: 'blended' can't be used; "
                'accepted: counts by name, such as {"A": 4, "B": 3}, or "mixed"'
            ),
        ),
        (
            {**PLAIN, "variants": "mixed", "shades": 1},
            "product.shades: 1 can't be used; accepted: 2 to 26",
        ),
        (
            {**PLAIN, "shades": 4},
            'product.shades: 4 can\'t be used; accepted: none, but for "variants": "mixed"',
        ),
    ],
)
def test_shades_that_cannot_be_used_are_refused(form: dict[str, Any], message: str) -> None:
    with pytest.raises(InputError) as refused:
        read_product(form)
    assert str(refused.value) == message
