"""A quote composed of what is sold: sums, the most that can be owed, words that fit the house."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from estimates.domain.price_book import Allowance, PriceBook
from estimates.domain.priced import Priced, PriceFault
from estimates.domain.pricing import price_scope
from estimates.domain.quotes.changed import differences
from estimates.domain.quotes.compose import issued_quote
from estimates.domain.quotes.content import IssuedQuote, QuoteSection
from estimates.domain.quotes.sold import DepositTerms
from estimates.domain.terms.job_terms import TaxRates
from jobs.domain.checks import BadValueError
from jobs.domain.documents import canonical_json, plain
from jobs.domain.scope.scope import FrozenScope
from tests.estimates.a_price import Given, a_book, a_quantity, an_adder, terms
from tests.estimates.domain.quotes.a_sale import (
    a_choice,
    a_sale,
    at_cost,
    sale_terms,
    two_rooms,
)
from tests.estimates.trade_words import trade_words

BAGS = Allowance(
    code="allowance-1",
    label="Low spots filled with leveler",
    unit="bag",
    units=Decimal(4),
    unit_price=Decimal("92.59"),
    unit_cost=Decimal(40),
    evidence="No depth survey yet.",
)
SUNDRIES = ("nail", "screw", "caulk", "travel", "tape", "spacer", "adhesive", "glue")


def with_choices(**changes: object) -> IssuedQuote:
    """The carpet out at 1,700.40, or laid over at 1,550.40: three hours of tear-out less."""
    over = two_rooms(
        tasks=tuple(task for task in two_rooms().tasks if task.code != "tear_out"),
        quantities=tuple(each for each in two_rooms().quantities if each.code != "tear_out"),
    )
    choices = (
        a_choice(name="The old floor taken out"),
        a_choice(over, key="b", way="lay_over", name="The new floor over the old one"),
    )
    return issued_quote(a_sale(choices=choices, **changes))


def test_the_whole_price_is_one_sum() -> None:
    quote = issued_quote(a_sale())
    assert quote.total == Decimal("1700.40")
    assert [room.amount for room in quote.rooms] == [None, None]


def test_by_room_the_rooms_sum_to_the_same_total() -> None:
    whole, by_room = issued_quote(a_sale()), issued_quote(a_sale(detail="room"))
    assert by_room.total == whole.total
    assert sum(room.amount or 0 for room in by_room.rooms) == whole.total


def test_the_most_holds_every_allowance_at_its_cap() -> None:
    """1,700.40 and four bags at 92.59, 370.36: 2,070.76, in the total already."""
    priced = at_cost(two_rooms(), allowances=(BAGS,))
    quote = issued_quote(a_sale(choices=(a_choice(priced=priced),)))
    assert (quote.total, quote.most, quote.caps) == (
        Decimal("2070.76"),
        Decimal("2070.76"),
        Decimal("370.36"),
    )
    (allowance,) = quote.allowances
    assert (allowance.name, allowance.each, allowance.unit, allowance.units) == (
        "low spots",
        Decimal("92.59"),
        "bag",
        Decimal(4),
    )
    assert "If it takes more, we stop and ask" in allowance.text


def test_each_choice_has_its_own_total_deposit_and_balance() -> None:
    first, second = with_choices().choices
    assert (first.total, first.deposit, first.balance) == (
        Decimal("1700.40"),
        Decimal("170.04"),
        Decimal("1530.36"),
    )
    assert (second.total, second.deposit, second.balance) == (
        Decimal("1550.40"),
        Decimal("155.04"),
        Decimal("1395.36"),
    )
    assert with_choices().total == first.total


def test_only_what_differs_among_choices_is_told_of_them() -> None:
    facts = [{fact.label: fact.text for fact in each.facts} for each in with_choices().choices]
    assert facts == [{"Old floor": "taken out"}, {"Old floor": "stays"}]


def test_one_way_has_no_facts_to_compare() -> None:
    (only,) = issued_quote(a_sale()).choices
    assert only.facts == ()


def test_stages_sum_to_the_total() -> None:
    terms_of_three = sale_terms(progress=Decimal(40))
    stages = issued_quote(a_sale(terms=terms_of_three)).stages
    assert [stage.amount for stage in stages] == [
        Decimal("170.04"),
        Decimal("680.16"),
        Decimal("850.20"),
    ]
    assert sum(stage.amount for stage in stages) == Decimal("1700.40")


def test_a_deposit_above_the_company_s_cap_is_the_cap() -> None:
    rule = DepositTerms(percent=Decimal(50), cap=Decimal(500))
    assert issued_quote(a_sale(terms=sale_terms(deposit=rule))).deposit == Decimal(500)


def test_the_week_of_the_start_begins_on_its_monday() -> None:
    quote = issued_quote(a_sale(start_week=date(2026, 12, 9)))
    assert quote.start.startswith("We start in the week of December 7, 2026.")


def test_by_the_unit_every_line_has_its_price_and_they_sum() -> None:
    """300 ft2 at 5.25 are 1,575.00; four bags at 92.59 are 370.36."""
    book = a_book(an_adder("floor_area", "5.25"), an_adder("tear_out", "0.80"))
    scope = two_rooms(
        quantities=(
            a_quantity("floor_area", 300, zone="up"),
            a_quantity("tear_out", 200, zone="up", room="Bedroom", item="carpet"),
            a_quantity("tear_out", 100, zone="up", room="Hall", item="carpet"),
        ),
        tasks=tuple(task for task in two_rooms().tasks if task.code in ("lay", "tear_out")),
    )
    priced = _by_rates(scope, book)
    quote = issued_quote(a_sale(detail="unit", choices=(a_choice(scope, priced=priced),)))
    shown = {unit.label: (unit.quantity, unit.each, unit.amount) for unit in quote.units}
    assert shown["Floor laid"] == (Decimal(300), Decimal("5.25"), Decimal("1575.00"))
    assert shown["Old floor taken out, carpet"] == (
        Decimal(300),
        Decimal("0.80"),
        Decimal("240.00"),
    )
    assert sum(unit.amount for unit in quote.units) + quote.tax == quote.total


def _by_rates(scope: FrozenScope, book: PriceBook) -> Priced:
    given: Given = {"method": "rates", "allowances": (BAGS,)}
    return price_scope(scope, book, terms(**given))


def test_sales_tax_on_the_bill_is_said_once() -> None:
    rates = TaxRates(state=Decimal("0.06"))
    taxed = _taxed(rates)
    assert taxed.tax_note == f"Sales tax of ${taxed.tax:,.2f} is in the total."
    assert not any("tax" in line.lower() for line in taxed.inclusions)


def _taxed(rates: TaxRates) -> IssuedQuote:
    priced = at_cost(two_rooms(), tax_mode="all", tax_rates=rates)
    return issued_quote(a_sale(choices=(a_choice(priced=priced),)))


def words_of(quote: IssuedQuote) -> str:
    """Everything that a quote says, but its drawing and digests."""
    return canonical_json(plain(replace(quote, drawing="", scope_sha256="")))


def test_no_word_of_the_trade_and_no_small_goods() -> None:
    cautions = (QuoteSection(title="Casings", text="The subfloor under the base may be wet."),)
    priced = at_cost(two_rooms(), allowances=(BAGS,))
    quote = issued_quote(
        a_sale(
            detail="room",
            cautions=cautions,
            choices=(a_choice(priced=priced),),
            start_week=date(2027, 4, 1),
        )
    )
    shown = words_of(quote)
    values = re.sub(r'"[a-z0-9_]+":', "", shown)
    assert trade_words(values) == []
    assert [word for word in SUNDRIES if word in values.lower()] == []


def test_nothing_without_a_price_is_quoted() -> None:
    priced = at_cost(two_rooms())
    lacking = replace(priced, faults=(PriceFault(code="pad", text="Pad: no price per roll"),))
    with pytest.raises(BadValueError, match="no price per roll"):
        issued_quote(a_sale(choices=(a_choice(priced=lacking),)))


def test_a_new_version_says_what_differs() -> None:
    before = issued_quote(a_sale())
    dearer = at_cost(two_rooms(), allowances=(BAGS,))
    now = issued_quote(a_sale(choices=(a_choice(priced=dearer),)), before=before)
    assert now.changed[0] == "Total $2,070.76 in place of $1,700.40."
    assert any(line.startswith("If needed, low spots:") for line in now.changed)


def test_a_new_version_without_a_difference_says_when_it_ends() -> None:
    before = issued_quote(a_sale())
    later = issued_quote(a_sale(terms=sale_terms(valid_days=60)), before=before)
    assert later.changed == ("The price now holds until April 30, 2027.",)


def test_a_new_version_names_rooms_and_choices_that_came_or_went() -> None:
    before = issued_quote(a_sale(rooms=a_sale().rooms[:1]))
    now = issued_quote(a_sale(), before=before)
    assert "Added: Hall." in now.changed
    assert any(
        line.startswith("New choice: The new floor over the old one, $1,550.40")
        for line in replaced(before)
    )


def replaced(before: IssuedQuote) -> tuple[str, ...]:
    return differences(before, with_choices())
