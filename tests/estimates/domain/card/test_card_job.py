"""A job priced by the rate card as it is done by hand, every line, to the cent."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from estimates.domain.price_book import PriceBook
from estimates.domain.priced import Priced, amounts_of
from estimates.domain.pricing import price_scope
from estimates.domain.terms.job_terms import AddedLine, Discount
from jobs.domain.scope.scope import FrozenScope
from tests.estimates.a_price import (
    a_book,
    a_material,
    a_quantity,
    a_scope,
    a_task,
    an_adder,
    terms,
)

CARD = {
    "floor_area": "2.85",
    "disposal": "0.60",
    "casings": "14",
    "doors_trimmed": "35",
    "transitions": "42",
    "base_on": "3.20",
    "toilets": "95",
    "appliances": "30",
    "furniture": "65",
    "leveller": "88",
    "trips": "60",
}

# What a pocket calculator makes of it, line by line.
BY_HAND = {
    "floor_area": "413.25",  # 145 ft2 at 2.85
    "tear_out": "79.75",  # 145 ft2 of carpet at 0.55
    "disposal": "87.00",  # 145 ft2 at 0.60
    "casings": "56.00",  # 4 at 14
    "doors_trimmed": "35.00",
    "transitions": "84.00",  # 2 at 42
    "base_on": "155.20",  # 48.5 ft at 3.20
    "toilets": "95.00",
    "appliances": "60.00",  # 2 at 30
    "furniture": "97.50",  # 1.5 rooms at 65
    "leveller": "176.00",  # 2 bags at 88
    "trips": "120.00",  # 2 at 60
}
# 493.00, 580.00, 636.00, 671.00, 755.00, 910.20, 1005.20, 1065.20, 1162.70, 1338.70, 1458.70.
CARD_SUM = Decimal("1458.70")


def the_book() -> PriceBook:
    adders = [an_adder(code, amount) for code, amount in CARD.items()]
    carpet = an_adder("tear_out", "0.55", item="carpet")
    materials = [("cartons", "61"), ("disposal", "0.35"), ("leveller", "38"), ("spacers", "0.15")]
    return a_book(*adders, carpet, *(a_material(code, amount) for code, amount in materials))


COUNTS = """
    floor_area 145, disposal 145, casings 4, doors_trimmed 1, transitions 2, base_on 48.5,
    toilets 1, appliances 2, furniture 1.5, leveller 2, trips 2, cartons 7, spacers 50
"""
HOURS = """
    setup 1.50, carry 0.50, furniture 2.25, fixtures_off 1.00, base_off 0.73, tear_out 0.87,
    dispose 0.73, prep 0.58, level 1.00, undercut 0.80, lay 12.00, transitions 1.00, base 2.43,
    doors_on 0.40, fixtures_on 1.25, clean 1.22, travel 2.00
"""


def the_scope() -> FrozenScope:
    """145 ft2 over carpet, 30.26 hours."""
    counted = [entry.split() for entry in COUNTS.split(",")]
    timed = [entry.split() for entry in HOURS.split(",")]
    carpet = a_quantity("tear_out", 145, item="carpet")
    return a_scope(
        quantities=(*(a_quantity(code, amount) for code, amount in counted), carpet),
        tasks=tuple(a_task(code, hours) for code, hours in timed),
    )


def priced(**changes: object) -> Priced:
    shares = {"overhead": Decimal("0.12"), "margin": Decimal("0.25"), "tax_rate": Decimal("0.08")}
    return price_scope(the_scope(), the_book(), terms(method="rates", **shares | changes))


def test_every_line_of_the_card_is_what_a_calculator_makes_it() -> None:
    lines = {line.code: line.amount for line in priced().lines if line.kind == "adder"}

    assert {code: str(amount) for code, amount in lines.items()} == BY_HAND
    assert sum(lines.values()) == CARD_SUM


def test_material_that_no_rate_pays_for_bears_tax_overhead_and_margin() -> None:
    result = priced(tax_mode="consumer")
    charged = {line.code: line.amount for line in result.lines if line.kind == "material"}

    # Cartons 7 x 61 = 427, with 8 % tax 461.16, x 1.12 = 516.4992, / 0.75 = 688.6656.
    # Spacers 50 x 0.15 = 7.50, with tax 8.10, x 1.12 = 9.072, / 0.75 = 12.096.
    # Bags and disposal stand in their rates.
    assert charged == {
        "cartons": Decimal("688.67"),
        "spacers": Decimal("12.10"),
        "leveller": 0,
        "disposal": 0,
    }


@pytest.mark.parametrize(
    ("mode", "subtotal", "tax", "total"),
    [
        # 1458.70 + 688.67 + 12.10; the tax of 8 % was paid at the counter.
        ("consumer", "2159.47", "0", "2159.47"),
        # Cartons 427 x 1.12 / 0.75 = 637.6533, spacers 7.50 x 1.12 / 0.75 = 11.20: 648.85 of
        # material, 2107.55 in all; 8 % of 648.85 = 51.908.
        ("seller", "2107.55", "51.91", "2159.46"),
        # 8 % of 2107.55 = 168.604.
        ("all", "2107.55", "168.60", "2276.15"),
        ("exempt", "2107.55", "0", "2107.55"),
    ],
)
def test_the_four_ways_of_sales_tax(mode: str, subtotal: str, tax: str, total: str) -> None:
    result = priced(tax_mode=mode, certificate="R-1")

    assert (result.subtotal, result.tax, result.total) == (
        Decimal(subtotal),
        Decimal(tax),
        Decimal(total),
    )
    assert not result.faults


def test_a_rate_that_sells_material_is_taxed_with_it_on_the_bill() -> None:
    book = the_book()
    taxed = tuple(replace(p, taxable=p.taxable or p.code == "leveller") for p in book.prices)
    shares = {"overhead": Decimal("0.12"), "margin": Decimal("0.25"), "tax_rate": Decimal("0.08")}
    seller = terms(method="rates", tax_mode="seller", **shares)

    result = price_scope(the_scope(), replace(book, prices=taxed), seller)

    # 8 % of 648.85 of material and of two bags at 88: 824.85 x 0.08 = 65.988.
    assert result.tax == Decimal("65.99")


def test_a_discount_rounding_and_a_line_of_ones_own_stand_on_a_price_by_the_card() -> None:
    piano = AddedLine(label="Piano", quantity=Decimal(1), unit="job", unit_price=Decimal(120))
    off = Discount(part=Decimal("0.05"), reason="second job")

    result = priced(tax_mode="exempt", certificate="R-1", added=(piano,), discount=off, round_to=10)

    # 2107.55 + 120 = 2227.55; 5 % of it 111.3775 -> 111.38; 2116.17 -> 2120.
    assert amounts_of(result.lines, "discount") == Decimal("-111.38")
    assert result.subtotal == 2120


def test_what_costs_more_than_its_rate_is_seen_beside_it() -> None:
    checks = {check.code: check for check in priced().rate_checks}

    # Laying: 1.50 + 0.50 + 0.58 + 12.00 + 1.22 = 15.80 h x 50 x 1.12 = 884.80 against 413.25.
    assert (checks["floor_area"].charge, checks["floor_area"].cost) == (
        Decimal("413.25"),
        Decimal("884.80"),
    )
    # Bags: 1 h x 50 and 2 x 38 = 126, x 1.12 = 141.12 against 176.00.
    assert (checks["leveller"].charge, checks["leveller"].cost) == (
        Decimal(176),
        Decimal("141.12"),
    )
    # Furniture: 2.25 h x 50 x 1.12 = 126.00 against 97.50.
    assert (checks["furniture"].charge, checks["furniture"].cost) == (
        Decimal("97.50"),
        Decimal(126),
    )
