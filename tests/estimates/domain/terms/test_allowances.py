"""What a unit of uncertain work costs and is sold for, and how many the evidence gives: by hand."""

from __future__ import annotations

from decimal import Decimal

import pytest

from estimates.domain.price_book import PriceBook, PricingTerms
from estimates.domain.starting import STARTING_PRICES
from estimates.domain.terms.allowances import (
    KINDS,
    card_price,
    low_spots,
    unit_cost,
    unit_price,
)
from estimates.domain.terms.evidence import cost_words, names, per_one, survey_words
from estimates.domain.terms.job_terms import TaxRates
from jobs.domain.quantities import CATALOG
from jobs.domain.scope.rates import STARTING_RATES
from jobs.domain.site.leveling import Survey
from tests.estimates.a_price import a_material, an_adder, terms

SHARES = {"overhead": Decimal("0.12"), "margin": Decimal("0.25")}
BAG = Decimal("0.45")


def book(*more: object) -> PriceBook:
    """The starting prices, and 48 an hour."""
    starting = [a_material(price.code, price.amount) for price in STARTING_PRICES]
    return PriceBook(prices=(*starting, *more), burdened_rate=Decimal(48))  # type: ignore[arg-type]


def cost(kind: str, how: PricingTerms | None = None) -> Decimal:
    return unit_cost(kind, book(), how or terms(**SHARES), STARTING_RATES).total


@pytest.mark.parametrize(
    ("kind", "total", "price"),
    [
        # 38.00 and half an hour at 48: 62.00. x 1.12 / 0.75 = 92.5867.
        ("bags", "62.0000", "92.59"),
        # 0.20 and 0.3 h a hundred: 0.20 + 0.144 = 0.344. x 1.12 / 0.75 = 0.5137.
        ("primer", "0.3440", "0.51"),
        # 0.05 and 0.6 h a hundred: 0.05 + 0.288 = 0.338. x 1.12 / 0.75 = 0.5047.
        ("screws", "0.3380", "0.50"),
        # A stick of 12 ft at 14.00, a tenth more for cuts: 14 / 12 x 1.1 = 1.28333; 1.9164.
        ("base", "1.2833", "1.92"),
    ],
)
def test_a_unit_is_its_material_and_hours_at_the_margin(kind: str, total: str, price: str) -> None:
    assert cost(kind) == Decimal(total)
    assert unit_price(cost(kind), terms(**SHARES)) == Decimal(price)


def test_tax_that_we_pay_is_in_the_cost_of_a_unit() -> None:
    taxed = terms(tax_mode="consumer", tax_rates=TaxRates(state=Decimal("0.08")), **SHARES)
    # 38.00 x 1.08 = 41.04, and 24.00 of labor.
    assert cost("bags", taxed) == Decimal("65.0400")


def test_tax_on_the_bill_is_not_in_the_cost_of_a_unit() -> None:
    billed = terms(tax_mode="seller", tax_rates=TaxRates(state=Decimal("0.08")), **SHARES)
    assert cost("bags", billed) == Decimal("62.0000")


def test_a_client_who_buys_the_material_pays_the_hours_alone() -> None:
    assert cost("bags", terms(labor_only=True, **SHARES)) == Decimal("24.0000")


def test_work_that_the_client_does_costs_no_hours() -> None:
    assert cost("bags", terms(left_out=("level",), **SHARES)) == Decimal("38.0000")


def test_a_material_without_a_price_is_said_to_lack_one() -> None:
    bare = PriceBook(prices=(), burdened_rate=Decimal(48))
    lacking = unit_cost("bags", bare, terms(), STARTING_RATES)
    assert lacking.lacking
    assert "no price in the book yet" in cost_words(lacking, "USD")


def test_the_rate_card_says_what_a_bag_is_sold_for_where_it_sets_the_price() -> None:
    card = book(an_adder("leveller", "85"))
    assert card_price("bags", card, terms(method="rates")) == Decimal("85.00")
    assert card_price("bags", card, terms()) is None
    assert card_price("screws", card, terms(method="rates")) is None


def test_every_kind_is_of_a_material_and_of_work_that_are_there() -> None:
    for kind in KINDS.values():
        assert CATALOG[kind.material].kind == "material"
        drivers = [(rate.task_code, rate.driver) for rate in STARTING_RATES]
        assert not kind.task or (kind.task, kind.driver) in drivers


def a_survey(least: float, most: float, low_ft2: float = 20.0) -> Survey:
    return Survey(deepest=0.5, low_ft2=low_ft2, fill_ft3=(least, most), bags=(0, 0))


def test_bags_are_rounded_up_once_for_all_rooms() -> None:
    # Two rooms of 0.7444 to 0.957 ft3: 1.4888 / 0.45 = 3.3 and 1.914 / 0.45 = 4.3.
    # By room it would be twice 2 and twice 3: up to 6 bags for what 5 fill.
    spots = low_spots([a_survey(0.7444, 0.957), a_survey(0.7444, 0.957)], BAG, 0)
    assert (spots.least, spots.most, spots.low_ft2) == (4, 5, Decimal(40))


@pytest.mark.parametrize(
    ("counted", "beyond"), [(0, (4, 5)), (4, (0, 1)), (5, (0, 0)), (7, (0, 0))]
)
def test_what_the_scope_counts_is_not_in_the_cap(counted: int, beyond: tuple[int, int]) -> None:
    spots = low_spots([a_survey(1.4888, 1.914)], BAG, counted)
    assert spots.beyond == beyond


def test_evidence_says_bags_and_hours_as_a_range_and_what_is_counted() -> None:
    spots = low_spots([a_survey(1.4888, 1.914)], BAG, 2)
    assert survey_words(spots, ["Den"], Decimal("0.5")) == (
        "Depth survey of Den: 4 to 5 bags, 2 to 2.5 h, each depth 1/16 in more or less. "
        "The scope counts 2; the cap is what lies beyond."
    )


def test_cost_is_said_part_by_part() -> None:
    said = cost_words(unit_cost("bags", book(), terms(), STARTING_RATES), "USD")
    assert said == "material $38.00, 0.5 h at $48.00 an hour"


def test_many_rooms_are_counted_beyond_three() -> None:
    assert names(["A", "B", "C"]) == "A, B, C"
    assert names(["A", "B", "C", "D", "E"]) == "A, B, C and 2 more"


@pytest.mark.parametrize(
    ("unit", "said"),
    [("bag", "a bag"), ("hour", "an hour"), ("ft", "a foot"), ("ft2", "a ft²"), ("each", "each")],
)
def test_one_of_a_unit_is_said_as_a_price_names_it(unit: str, said: str) -> None:
    assert per_one(unit) == said
