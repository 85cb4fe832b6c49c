"""Pricing by rates: adders make the price and are held against what their work costs."""

from decimal import Decimal

import pytest

from estimates.domain.price_book import HALF_DAY, Price, PriceBook
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


def test_work_that_the_card_has_no_rate_for_is_a_fault_by_its_row() -> None:
    result = price_scope(a_scope(), rates_book(), terms(method="rates"))

    assert [(fault.code, fault.text) for fault in result.faults] == [
        ("rate-base_on", "Base, off and on: no rate on 2026-03-02")
    ]


def test_a_task_that_no_row_pays_for_is_a_fault_too() -> None:
    scope = a_scope(quantities=(a_quantity("primer", 20),), tasks=(a_task("level", "1.00"),))

    result = price_scope(scope, a_book(a_material("primer", "1")), terms(method="rates"))

    assert [fault.text for fault in result.faults] == [
        "level: no rate in force on 2026-03-02 pays for it"
    ]


def test_a_toilets_rate_does_not_pay_for_the_appliances() -> None:
    scope = a_scope(
        quantities=(a_quantity("toilets", 1), a_quantity("appliances", 2)),
        tasks=(a_task("fixtures_off", "4.00"),),
    )

    result = price_scope(scope, a_book(an_adder("toilets", "180")), terms(method="rates"))

    assert [fault.code for fault in result.faults] == ["rate-appliances"]


def test_a_rate_that_names_its_tasks_pays_for_them_whatever_they_are_counted_by() -> None:
    book = rates_book(an_adder("base_on", "6"))
    everything = an_adder("floor_area", "9", covers_tasks=("lay", "base"), effective="2026-02-01")

    without_base = a_book(*(p for p in book.prices if p.code != "base_on"), everything)

    assert not price_scope(a_scope(), without_base, terms(method="rates")).faults


@pytest.mark.parametrize(
    ("method", "half_day", "subtotal"),
    # Without a minimum: 540 of laying, 240 of base, 450 of material.
    [("rates", "1300", 1300), ("rates", "900", 1230), ("cost", "5000", 1250)],
)
def test_the_half_day_is_the_least_where_the_card_makes_the_price(
    method: str, half_day: str, subtotal: int
) -> None:
    book = rates_book(an_adder("base_on", "6"), an_adder(HALF_DAY, half_day))

    assert price_scope(a_scope(), book, terms(method=method)).subtotal == subtotal


def test_the_larger_of_half_day_and_minimum_charge_counts() -> None:
    book = rates_book(an_adder("base_on", "6"), an_adder(HALF_DAY, "1300"))

    result = price_scope(a_scope(), book, terms(method="rates", minimum=Decimal(1500)))

    assert result.subtotal == 1500
    assert the_line(result, "minimum").amount == 270


def test_an_estimate_by_the_card_keeps_the_half_day_it_was_made_with() -> None:
    book = rates_book(an_adder("base_on", "6"), an_adder(HALF_DAY, "1300"))

    basis = price_scope(a_scope(), book, terms(method="rates")).basis

    assert basis is not None
    assert basis.minimum == 1300
    assert basis.prices[-1].code == HALF_DAY


def test_by_rates_the_client_pays_no_adder_for_what_the_client_does() -> None:
    book = rates_book(an_adder("base_on", "6", covers_tasks=("base",)))

    result = price_scope(a_scope(), book, terms(method="rates", left_out=("base",)))

    assert not result.faults
    assert amounts_of(result.lines, "adder") == 540


def test_of_an_adder_for_several_tasks_the_part_that_stays_ours_is_charged() -> None:
    scope = a_scope(
        tasks=(
            a_task("lay", "12.00", zone="up", rows=(1, 18)),
            a_task("base_off", "1.00", zone="up"),
            a_task("base", "3.00", zone="up"),
        )
    )
    book = rates_book(an_adder("base_on", "6"))

    result = price_scope(scope, book, terms(method="rates", left_out=("base_off",)))

    # 40 lf at 6 pay for 1 h off and 3 h on: three quarters are 4.50 a foot, 180.
    line = next(line for line in result.lines if line.kind == "adder" and line.code == "base_on")
    assert (line.quantity, line.amount) == (Decimal(40), Decimal(180))
    assert line.unit_price == Decimal("4.50")
    assert "3.00 of 4.00 h of its work are ours" in line.basis
    # Held against what it costs us: 3 h x 50.
    assert next(check for check in result.rate_checks if check.code == "base_on").cost == 150


def test_what_the_client_does_wholly_leaves_its_material_to_be_charged_alone() -> None:
    book = rates_book(an_adder("base_on", "6", covers_tasks=("base",), covers_materials=("pad",)))

    result = price_scope(a_scope(), book, terms(method="rates", left_out=("base",)))

    # No foot of base, but the two rolls of pad at 45 that it would have paid for.
    assert amounts_of(result.lines, "adder") == 540
    assert the_line(result, "pad").amount == 90
    assert not result.faults


def test_a_tear_out_adder_is_priced_by_the_old_floor() -> None:
    scope = a_scope(
        quantities=(a_quantity("tear_out", 100, item="tile"),), tasks=(a_task("tear_out", "6.00"),)
    )
    book = a_book(an_adder("tear_out", "1"), an_adder("tear_out", "4", item="tile"))

    assert price_scope(scope, book, terms(method="rates")).subtotal == 400
