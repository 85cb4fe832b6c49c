"""What a carton covers and weighs, by hand."""

from __future__ import annotations

from decimal import Decimal

import pytest

from jobs.domain.products.carton import (
    carton_ft2,
    common_carton_lb,
    coverage_bounds,
    covers_as_printed,
    planks_in_row,
)

LENGTH, WIDTH, QUARTER = Decimal("1219.2"), Decimal("177.8"), Decimal("6.35")


def test_ten_planks_of_7_by_48_cover_23_33_square_feet() -> None:
    """7 × 48 × 10 = 3360 square inches; over 144 that is 23.33 square feet."""
    assert carton_ft2(LENGTH, [(WIDTH, 10)]) == Decimal("23.33")


def test_a_mixed_carton_covers_the_sum_of_its_widths() -> None:
    """Three of 9, four of 7 and three of 5 in: 27 + 28 + 15 = 70 in across, 48 long: 3360 in²."""
    sizes = [(Decimal("228.6"), 3), (WIDTH, 4), (Decimal(127), 3)]
    assert carton_ft2(LENGTH, sizes) == Decimal("23.33")


def test_a_plank_of_7_05_covers_more_than_one_of_7() -> None:
    """7.05 × 48 × 10 = 3384 square inches: 23.50 square feet."""
    assert carton_ft2(LENGTH, [(Decimal("179.07"), 10)]) == Decimal("23.50")


@pytest.mark.parametrize(
    ("printed", "believed"),
    [("23.33", True), ("23.10", True), ("23.56", True), ("23.09", False), ("23.57", False)],
)
def test_a_printed_coverage_is_believed_within_one_part_in_a_hundred(
    printed: str, believed: bool
) -> None:
    """1 % of 23.33 is 0.2333: from 23.0967 to 23.5633, to the hundredth 23.10 and 23.56."""
    counted = Decimal("23.33")
    assert coverage_bounds(counted) == (Decimal("23.10"), Decimal("23.56"))
    assert covers_as_printed(Decimal(printed), counted) is believed


@pytest.mark.parametrize(
    ("length", "planks"), [("1219.2", 3), ("914.4", 4), ("1220", 3), ("7000", 1)]
)
def test_a_row_of_12_feet_begins_so_many_planks(length: str, planks: int) -> None:
    assert planks_in_row(Decimal(length), Decimal("3657.6")) == planks


def test_a_rigid_carton_weighs_what_its_thickness_makes() -> None:
    """1.9 lb/ft2 at 1/4 in over 23.33 ft2 is 44.33 lb, to the half 44.5; twice as thick 88.65."""
    assert common_carton_lb("rigid", QUARTER, Decimal("23.33")) == Decimal("44.5")
    assert common_carton_lb("rigid", QUARTER * 2, Decimal("23.33")) == Decimal("88.5")


def test_the_common_weight_of_rigid_vinyl_lies_where_the_trade_has_it() -> None:
    """1.7 to 2.1 lb/ft2 at 1/4 in: common practice, no source."""
    of_100 = common_carton_lb("rigid", QUARTER, Decimal(100))
    assert 170 <= of_100 <= 210
