"""Figures read the same wherever they stand."""

from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction

import pytest

from jobs.domain import figures


def test_an_area_carries_a_real_superscript_and_a_space_that_holds() -> None:
    assert figures.area(162) == "162\u00a0ft²"


def test_an_area_is_told_in_whole_square_feet() -> None:
    # Whole square feet is how floor areas are reported (ANSI Z765, sections 3 and 4).
    assert figures.area(Decimal("145.5")) == "146\u00a0ft²"


def test_a_metric_area_is_told_to_the_tenth() -> None:
    # 162 ft2 x 0.09290304 m2 (NIST SP 811, 2008, appendix B.8) = 15.0503 m2
    assert figures.area(162, "metric") == "15.1\u00a0m²"


def test_a_length_holds_together_at_the_end_of_a_line() -> None:
    assert figures.length(Fraction(297, 2)) == "12'\u00a04½\""


def test_a_metric_length_is_told_in_meters() -> None:
    assert figures.length_mm(3760, "metric") == "3.76\u00a0m"


def test_millimeters_and_inches_name_the_same_wall() -> None:
    assert figures.length_mm(Decimal("3771.9")) == figures.length(Fraction(297, 2))


def test_square_inches_and_square_feet_name_the_same_floor() -> None:
    assert figures.area_in2(162 * 144) == figures.area(162)


def test_square_millimeters_and_square_feet_name_the_same_floor() -> None:
    assert figures.area_mm2(Decimal("92903.04")) == figures.area(1)


def test_an_unknown_unit_system_is_refused_by_name() -> None:
    with pytest.raises(ValueError, match=r"'cubits'; accepted: imperial or metric"):
        figures.area(1, "cubits")


@pytest.mark.parametrize(
    ("amount", "written"),
    [
        (Decimal("1234.5"), "$1,234.50"),
        (Decimal("-45"), "-$45.00"),
        (0, "$0.00"),
        (Decimal("0.125"), "$0.125"),
        (Decimal("1E+3"), "$1,000.00"),
        (Decimal("123456789012345678.99"), "$123,456,789,012,345,678.99"),
    ],
)
def test_money_has_two_places_or_more_and_is_never_rounded(
    amount: Decimal | int, written: str
) -> None:
    assert figures.money(amount, "USD") == written


def test_a_currency_without_a_sign_of_its_own_is_named() -> None:
    assert figures.money(Decimal("5"), "CHF") == "CHF\u00a05.00"


def test_money_as_a_float_is_refused() -> None:
    with pytest.raises(TypeError, match="a Decimal is expected"):
        figures.money(0.1)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("count", "written"),
    [
        (8, "8\u00a0h"),
        (Decimal("12.50"), "12.5\u00a0h"),
        (7.25, "7.25\u00a0h"),
        (1000, "1,000\u00a0h"),
    ],
)
def test_hours_drop_what_says_nothing(count: float, written: str) -> None:
    assert figures.hours(count) == written


@pytest.mark.parametrize(
    ("share", "written"),
    [
        (Fraction(42, 1000), "4.2%"),
        (1, "100%"),
        (Decimal("-0.125"), "-12.5%"),
        (Fraction(-1, 10**6), "0%"),
    ],
)
def test_a_share_becomes_a_percentage(share: Fraction, written: str) -> None:
    assert figures.percent(share) == written


@pytest.mark.parametrize("write", [figures.area, figures.hours, figures.percent, figures.length])
def test_a_figure_that_is_not_known_is_left_blank(write: Callable[[None], str]) -> None:
    assert write(None) == ""


def test_an_unknown_unit_is_written_as_it_is() -> None:
    assert figures.unit_sign("cartons") == "cartons"
