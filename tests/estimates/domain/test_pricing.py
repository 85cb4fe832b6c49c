"""A scope is priced so that every cent can be followed by hand."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimates.domain.estimate import ESTIMATE, estimate_document, priced_from
from estimates.domain.price_book import Allowance
from estimates.domain.priced import Priced, amounts_of, costs_of
from estimates.domain.pricing import price_scope
from jobs.domain.checks import BadValueError
from jobs.domain.documents import canonical_json, digest
from jobs.domain.scope.scope import scope_text
from tests.estimates.a_price import (
    Given,
    a_book,
    a_material,
    a_scope,
    a_task,
    terms,
    the_line,
)


def priced(**changes: object) -> Priced:
    return price_scope(a_scope(), a_book(), terms(**changes))


def bag(**changes: object) -> Allowance:
    given_: Given = {
        "code": "bags",
        "label": "Leveler",
        "unit": "bag",
        "units": Decimal(4),
        "unit_price": Decimal("70"),
        "unit_cost": Decimal("45"),
    }
    return Allowance(**given_ | changes)


def test_cost_is_material_and_burdened_hours() -> None:
    result = priced()

    # 6 x 60 + 2 x 45 = 450; 16 h x 50 = 800.
    assert result.material_cost == 450
    assert result.labor_cost == 800
    assert result.cost == 1250


def test_price_is_cost_with_overhead_at_the_margin() -> None:
    result = priced(overhead=Decimal("0.10"), margin=Decimal("0.20"))

    # 1 250 + 125 = 1 375; / 0.80 = 1 718.75; profit 343.75 is a fifth of the price.
    assert result.overhead == 125
    assert result.subtotal == Decimal("1718.75")
    assert result.profit == Decimal("343.75")
    assert result.margin == Decimal("0.2000")
    # The same profit is a quarter of the cost.
    assert result.markup == Decimal("0.2500")


def test_lines_sum_to_the_subtotal() -> None:
    result = priced(overhead=Decimal("0.13"), margin=Decimal("0.37"))

    assert amounts_of(result.lines) == result.subtotal
    assert costs_of(result.lines) == result.direct_cost


def test_facts_are_never_priced() -> None:
    assert "planks" not in {line.code for line in priced().lines}


def test_as_consumer_the_installer_bears_the_tax() -> None:
    result = priced(tax_mode="consumer", tax_rate=Decimal("0.08"))

    # 8 % of 450 = 36, a cost; the client sees no tax.
    assert result.use_tax == 36
    assert result.cost == 1286
    assert result.tax == 0
    assert result.total == result.subtotal == 1286


def test_as_seller_tax_is_added_to_the_material_sold() -> None:
    result = priced(tax_mode="seller", tax_rate=Decimal("0.08"), margin=Decimal("0.20"))

    # Material 450 of 1 250 cost, so 562.50 of 1 562.50; 8 % of it = 45.
    assert result.use_tax == 0
    assert result.tax == 45
    assert result.total == Decimal("1607.50")


def test_untaxed_material_bears_no_tax() -> None:
    book = a_book(a_material("cartons", "60", taxable=False), a_material("pad", "45"))

    result = price_scope(a_scope(), book, terms(tax_mode="consumer", tax_rate=Decimal("0.10")))
    assert result.use_tax == 9


def test_without_tax_mode_there_is_no_tax() -> None:
    assert priced(tax_rate=Decimal("0.08")).total == priced().total


def test_the_minimum_is_made_up_in_a_line_of_its_own() -> None:
    result = priced(minimum=Decimal("1500"))

    assert result.subtotal == 1500
    assert the_line(result, "minimum").amount == 250
    assert the_line(result, "minimum").cost == 0


def test_a_price_above_the_minimum_stays() -> None:
    assert priced(minimum=Decimal("1250")).subtotal == 1250
    assert "minimum" not in {line.code for line in priced(minimum=Decimal("1250")).lines}


def test_an_allowance_is_sold_at_its_own_price_up_to_its_cap() -> None:
    result = priced(allowances=(bag(),))

    # 1 250 as before, and 4 bags at 70 that cost 45 each.
    assert result.subtotal == 1530
    assert result.allowance_cost == 180
    assert the_line(result, "bags").unit_price == 70
    assert the_line(result, "bags").basis == "up to 4 bags; more by change order"


def test_contribution_is_what_is_left_for_overhead_and_profit() -> None:
    result = priced(overhead=Decimal("0.10"), margin=Decimal("0.20"))

    # 1 718.75 - 1 250 = 468.75 in 16 h, one crew-day of 16 h.
    assert result.contribution == Decimal("468.75")
    assert result.crew_days == 1
    assert result.contribution_per_crew_day == Decimal("468.75")


def test_contribution_per_crew_day_halves_with_two_days() -> None:
    result = priced(margin=Decimal("0.20"), crew_hours_per_day=Decimal(8))

    assert result.crew_days == 2
    assert result.contribution_per_crew_day == Decimal("156.25")


def test_contribution_per_crew_day_of_two_builders() -> None:
    # I. P. Hicks, Builders' Guide (1890s): 900 for 60 days of five men, 800 for 48 days of four
    # who do five men's work; ten-hour days, 0.25 an hour for A and 0.3125 for B's better men.
    by_builder = []
    for hours, rate, bid in (("3000.00", "0.25", 900), ("1920.00", "0.3125", 800)):
        scope = a_scope(zones=(), quantities=(), tasks=(a_task("lay", hours),))
        book = replace(a_book(), burdened_rate=Decimal(rate))
        day = Decimal(50) if bid == 900 else Decimal(40)
        by_builder.append(
            price_scope(scope, book, terms(minimum=Decimal(bid), crew_hours_per_day=day))
        )

    assert [result.contribution for result in by_builder] == [150, 200]
    assert [result.contribution_per_crew_day for result in by_builder] == [
        Decimal("2.50"),
        Decimal("4.17"),
    ]


def test_no_hours_have_no_contribution_per_day() -> None:
    result = price_scope(a_scope(tasks=()), a_book(), terms())

    assert result.contribution_per_crew_day is None


def test_a_missing_price_is_a_fault_and_not_nought() -> None:
    result = price_scope(a_scope(), a_book(a_material("pad", "45")), terms())

    assert [fault.text for fault in result.faults] == [
        "Flooring (plank): no price per carton on 2026-03-02"
    ]
    assert "cartons" not in {line.code for line in result.lines}


def test_a_price_counts_from_its_day_on() -> None:
    prices = (
        a_material("pad", "45"),
        a_material("cartons", "60"),
        a_material("cartons", "66", effective="2026-03-02"),
    )

    for day, cost in (("2026-03-01", 360), ("2026-03-02", 396)):
        result = price_scope(a_scope(), a_book(*prices), terms(as_of=day))
        assert the_line(result, "cartons").cost == cost


def test_a_products_own_price_goes_before_the_general_one() -> None:
    prices = (
        a_material("pad", "45"),
        a_material("cartons", "60", effective="2026-02-01"),
        a_material("cartons", "72", item="plank"),
    )

    result = price_scope(a_scope(), a_book(*prices), terms())
    assert the_line(result, "cartons").unit_cost == 72


def test_what_the_client_supplies_is_named_and_free() -> None:
    result = price_scope(a_scope(), a_book(a_material("pad", "45")), terms(supplied=("cartons",)))

    assert not result.faults
    assert the_line(result, "cartons").cost == the_line(result, "cartons").amount == 0
    assert the_line(result, "cartons").basis == "supplied by the client"


def test_what_the_client_does_costs_and_counts_no_hours() -> None:
    result = priced(left_out=("base",))

    assert result.labor_cost == 600
    assert result.hours == 12
    assert the_line(result, "base").amount == 0


def test_the_priced_scope_names_the_scope_by_digest() -> None:
    assert priced().scope_sha256 == digest(scope_text(a_scope()))


def test_a_priced_scope_is_read_back_as_it_was_written() -> None:
    result = priced(margin=Decimal("0.3"), allowances=(bag(),), minimum=Decimal(9000))

    text = canonical_json(estimate_document(result))
    again = priced_from(ESTIMATE.read(text))
    assert again == result
    assert canonical_json(estimate_document(again)) == text


money = st.decimals("0", "500", places=2)


@given(
    carton=money,
    pad=money,
    margin=st.decimals("0", "0.9", places=3),
    overhead=st.decimals("0", "1", places=3),
    minimum=money,
    mode=st.sampled_from(["none", "consumer", "seller"]),
    basis=st.sampled_from(["item", "invoice"]),
)
def test_the_sums_always_close(
    carton: Decimal,
    pad: Decimal,
    margin: Decimal,
    overhead: Decimal,
    minimum: Decimal,
    mode: str,
    basis: str,
) -> None:
    book = a_book(a_material("cartons", str(carton)), a_material("pad", str(pad)))
    chosen = terms(
        margin=margin,
        overhead=overhead,
        minimum=minimum,
        tax_mode=mode,
        tax_rate=Decimal("0.0825"),
        tax_basis=basis,
    )

    result = price_scope(a_scope(), book, chosen)

    assert amounts_of(result.lines) == result.subtotal >= minimum
    assert result.direct_cost == costs_of(result.lines) + result.use_tax
    assert result.subtotal == result.direct_cost + result.contribution
    assert result.contribution == result.overhead + result.profit
    assert result.total == result.subtotal + result.tax
    # Every printed figure is whole cents.
    assert result.total == result.total.quantize(Decimal("0.01"))
    # The margin is kept to the rounding of the price to a cent.
    if result.subtotal > minimum:
        assert abs(result.profit - result.subtotal * margin) <= Decimal("0.01")


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"margin": Decimal(1)}, r"terms.margin is 1; accepted: .* less than 1"),
        ({"as_of": "2026-02-30"}, r"terms.as_of is '2026-02-30'; accepted: a day such as"),
        ({"as_of": "20260302"}, r"terms.as_of is '20260302'"),
        ({"tax_mode": "vat"}, r"terms.tax_mode is 'vat'; accepted: one of all, consumer, exempt"),
        ({"supplied": ("gold",)}, r"terms.supplied is 'gold'"),
        ({"left_out": ("dance",)}, r"terms.left_out is 'dance'"),
        ({"allowances": (bag(), bag())}, r"terms.allowances is 'bags'; accepted: each name once"),
        ({"crew_hours_per_day": Decimal(0)}, r"crew_hours_per_day is 0"),
    ],
)
def test_terms_out_of_bounds_are_refused(changes: dict[str, object], said: str) -> None:
    with pytest.raises(BadValueError, match=said):
        terms(**changes)


def test_a_price_in_another_unit_is_refused() -> None:
    with pytest.raises(
        BadValueError, match=r"price cartons.unit is 'ft2'; accepted: one of carton"
    ):
        a_material("cartons", "2.49", unit="ft2")


def test_two_prices_for_one_thing_from_one_day_are_refused() -> None:
    with pytest.raises(BadValueError, match=r"book.prices is 'material pad  from 2026-01-01'"):
        a_book(a_material("pad", "45"), a_material("pad", "46"))


def test_work_has_no_material_price() -> None:
    with pytest.raises(BadValueError, match=r"price base_on.code is 'base_on'; accepted: one of"):
        a_material("base_on", "6")
