"""Money is rounded in one place, the way the sources say."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimates.domain.money import (
    cents,
    margin_of,
    markup_of,
    price_at_margin,
    sales_tax,
    spread,
)
from jobs.domain.checks import BadValueError


@pytest.mark.parametrize(
    ("exact", "rounded"),
    [
        ("0.1250", "0.13"),
        ("0.1249", "0.12"),
        ("0.1350", "0.14"),
        ("2.005", "2.01"),
        ("-0.125", "-0.13"),
    ],
)
def test_half_a_cent_goes_up_and_not_to_the_even_cent(exact: str, rounded: str) -> None:
    # Streamlined Sales and Use Tax Agreement, section 324: up where the third decimal is over four.
    assert cents(Decimal(exact)) == Decimal(rounded)


@pytest.mark.parametrize(("basis", "tax"), [("item", "0.66"), ("invoice", "0.67")])
def test_tax_by_item_and_by_invoice_may_differ_by_a_cent(basis: str, tax: str) -> None:
    # The same section lets the seller choose; 0.14 + 0.22 + 0.30 against 9.63 at 7 %.
    items = [Decimal("2.07"), Decimal("3.21"), Decimal("4.35")]

    assert sales_tax(items, Decimal("0.07"), basis) == Decimal(tax)  # type: ignore[arg-type]


def test_a_cost_of_a_thousand_at_35_percent_margin() -> None:
    # 1000 / 0.65 = 1538.4615...
    assert price_at_margin(Decimal(1000), Decimal("0.35")) == Decimal("1538.46")


def test_a_margin_of_all_the_price_is_refused() -> None:
    with pytest.raises(BadValueError, match=r"margin is 1; accepted: .* less than 1"):
        price_at_margin(Decimal(1000), Decimal(1))


@pytest.mark.parametrize(
    ("bid", "labor", "margin", "markup"),
    [
        (900, 750, "0.1667", "0.2000"),
        (800, 600, "0.2500", "0.3333"),
        (800, 650, "0.1875", "0.2308"),
    ],
)
def test_the_builder_with_the_better_crew_earns_more_at_the_lower_bid(
    bid: int, labor: int, margin: str, markup: str
) -> None:
    # I. P. Hicks, Builders' Guide (1890s): five men at 2.50 a day; 60, 48 and 52 days.
    assert margin_of(Decimal(bid), Decimal(labor)) == Decimal(margin)
    assert markup_of(Decimal(bid), Decimal(labor)) == Decimal(markup)


def test_lines_rounded_first_sum_to_what_the_reader_adds_up() -> None:
    # International Library of Technology, Building Construction vol. 4: 3 280 ft at 26.10, 4 619 at
    # 33.60, 654 at 31.10 a thousand. The book prints 155.19 for the exact 155.1984 (a cut, not a
    # rounding) and so 261.14; lines in cents sum to 261.15, as the exact 261.1458 does.
    lines = [
        cents(feet * Decimal(price) / 1000)
        for feet, price in ((3280, "26.10"), (4619, "33.60"), (654, "31.10"))
    ]

    assert lines == [Decimal("85.61"), Decimal("155.20"), Decimal("20.34")]
    assert sum(lines) == Decimal("261.15")


def test_a_total_is_shared_out_to_the_last_cent() -> None:
    assert spread(Decimal("100.00"), [Decimal(1)] * 3) == (
        Decimal("33.34"),
        Decimal("33.33"),
        Decimal("33.33"),
    )


@given(
    total=st.decimals("0", "100000", places=2),
    weights=st.lists(st.decimals("0", "10000", places=2), min_size=1, max_size=12),
)
def test_shares_sum_to_the_total_and_none_is_off_by_a_cent(
    total: Decimal, weights: list[Decimal]
) -> None:
    whole = sum(weights, Decimal(0))
    if not whole:
        weights, whole = [*weights, Decimal(1)], Decimal(1)

    parts = spread(total, weights)

    assert sum(parts) == total
    assert all(
        abs(part - total * weight / whole) < Decimal("0.01")
        for part, weight in zip(parts, weights, strict=True)
    )


def test_something_to_share_and_nobody_to_take_it_is_refused() -> None:
    with pytest.raises(BadValueError, match=r"weights is 0; accepted: a sum of more than 0"):
        spread(Decimal(1), [Decimal(0)])


def test_nothing_has_no_margin() -> None:
    assert margin_of(Decimal(0), Decimal(0)) is None
