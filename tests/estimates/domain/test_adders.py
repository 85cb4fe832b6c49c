"""Pricing by rates: adders make the price and are held against what their work costs."""

from decimal import Decimal

from estimates.domain.price_book import Price, PriceBook
from estimates.domain.priced import amounts_of
from estimates.domain.pricing import price_scope
from tests.estimates.a_price import (
    a_book,
    a_material,
    a_quantity,
    a_scope,
    a_task,
    an_adder,
    terms,
    the_line,
)


def rates_book(*more: Price) -> PriceBook:
    return a_book(
        a_material("cartons", "60"),
        a_material("pad", "45"),
        an_adder("floor_area", "4.50"),
        *more,
    )


def test_by_rates_feet_and_adders_make_the_price() -> None:
    book = rates_book(an_adder("base_on", "6"))

    result = price_scope(a_scope(), book, terms(method="rates"))

    # 120 ft2 at 4.50 = 540; 40 lf at 6 = 240; material at cost 450.
    assert not result.faults
    assert amounts_of(result.lines, "adder") == 780
    assert result.subtotal == 1230
    assert result.labor_cost == 800


def test_by_rates_material_bears_overhead_and_margin() -> None:
    book = rates_book(an_adder("base_on", "6"))
    marked = terms(method="rates", overhead=Decimal("0.10"), margin=Decimal("0.20"))

    result = price_scope(a_scope(), book, marked)

    # (360 + 90) x 1.10 / 0.80 = 495 + 123.75.
    assert amounts_of(result.lines, "material") == Decimal("618.75")


def test_an_adder_may_pay_for_its_material() -> None:
    book = rates_book(an_adder("base_on", "6", covers_materials=("pad",)))

    result = price_scope(a_scope(), book, terms(method="rates"))

    assert the_line(result, "pad").amount == 0
    assert the_line(result, "pad").cost == 90


def test_what_a_rate_brings_is_held_against_what_its_work_costs() -> None:
    book = rates_book(an_adder("base_on", "6"))

    result = price_scope(a_scope(), book, terms(overhead=Decimal("0.10")))

    # Laying: 540 against 12 h x 50 x 1.10 = 660. Base: 240 against 220.
    assert [(check.code, check.charge, check.cost) for check in result.rate_checks] == [
        ("floor_area", Decimal(540), Decimal(660)),
        ("base_on", Decimal(240), Decimal(220)),
    ]


def test_two_adders_for_one_task_share_its_cost_by_what_they_charge() -> None:
    scope = a_scope(
        quantities=(a_quantity("toilets", 1), a_quantity("appliances", 2)),
        tasks=(a_task("fixtures_off", "4.00"),),
    )
    book = a_book(an_adder("toilets", "180"), an_adder("appliances", "30"))

    result = price_scope(scope, book, terms(method="rates"))

    # 200 of cost; 180 and 60 charged.
    assert [check.cost for check in result.rate_checks] == [150, 50]


def test_by_rates_work_that_nothing_pays_for_is_a_fault() -> None:
    result = price_scope(a_scope(), rates_book(), terms(method="rates"))

    assert [fault.text for fault in result.faults] == [
        "base: no rate in force on 2026-03-02 pays for it"
    ]


def test_by_rates_the_client_pays_no_adder_for_what_the_client_does() -> None:
    book = rates_book(an_adder("base_on", "6", covers_tasks=("base",)))

    result = price_scope(a_scope(), book, terms(method="rates", left_out=("base",)))

    assert not result.faults
    assert amounts_of(result.lines, "adder") == 540


def test_a_tear_out_adder_is_priced_by_the_old_floor() -> None:
    scope = a_scope(
        quantities=(a_quantity("tear_out", 100, item="tile"),), tasks=(a_task("tear_out", "6.00"),)
    )
    book = a_book(an_adder("tear_out", "1"), an_adder("tear_out", "4", item="tile"))

    assert price_scope(scope, book, terms(method="rates")).subtotal == 400
