"""Prices and terms of an accepted quote, whatever the book says by now."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from estimates.domain.orders.as_then import (
    AgreedPrice,
    book_then,
    priced_since,
    rate_then,
    terms_then,
)
from estimates.domain.price_book import PriceBook, PricingTerms
from estimates.domain.pricing import price_scope
from estimates.domain.terms.job_terms import Discount
from tests.estimates.a_price import (
    TODAY,
    a_book,
    a_material,
    a_quantity,
    a_scope,
    an_adder,
    terms,
)

NOW = "2026-09-01"
SHARES = {"margin": Decimal("0.25"), "overhead": Decimal("0.12")}


def quoted(book: PriceBook | None = None, **changes: object) -> AgreedPrice:
    """The small scope as it was quoted on the second of March."""
    scope = a_scope()
    return AgreedPrice(
        scope=scope, priced=price_scope(scope, book or a_book(), terms(**SHARES | changes))
    )


def dearer() -> PriceBook:
    """The book of September: the old prices, new ones, and one set back to an old day."""
    later = [a_material("cartons", "99", effective=NOW), a_material("pad", "88", effective=NOW)]
    back = a_material("cartons", "77", item="plank", effective="2026-02-01")
    known = (*a_book().prices, *later, back)
    return replace(a_book(), prices=known, burdened_rate=Decimal(90))


def amount_of(book: PriceBook, code: str, item: str = "") -> Decimal | None:
    price = book.find("material", code, item, TODAY)
    return None if price is None else price.amount


def test_what_was_priced_keeps_its_price_and_its_hour() -> None:
    book = book_then([quoted()], dearer(), NOW)
    assert [amount_of(book, "cartons", "plank"), amount_of(book, "pad")] == [60, 45]
    assert book.burdened_rate == 50


def test_the_scope_that_was_quoted_comes_to_what_it_was_quoted_at() -> None:
    agreed = quoted()
    now = replace(terms(as_of=NOW), margin=Decimal("0.4"), overhead=Decimal("0.3"), round_to=10)
    then = terms_then(agreed.priced, now)
    again = price_scope(agreed.scope, book_then([agreed], dearer(), NOW), then)
    assert again.subtotal == agreed.priced.subtotal


def test_a_change_is_not_rounded() -> None:
    assert terms_then(quoted(round_to=10).priced, terms()).round_to == 0


def test_a_percentage_taken_off_then_is_taken_off_the_change() -> None:
    off = Discount(part=Decimal("0.1"), reason="second job")
    then = terms_then(quoted(discount=off).priced, terms())
    assert then.discount == off


def test_what_was_not_priced_has_the_price_of_the_quotes_day() -> None:
    tape = [a_material("seam_tape", "9"), a_material("seam_tape", "14", effective=NOW)]
    known = replace(dearer(), prices=(*dearer().prices, *tape))
    assert amount_of(book_then([quoted()], known, NOW), "seam_tape") == 9


def test_what_had_no_price_then_has_todays_and_is_named() -> None:
    tape = a_material("seam_tape", "14", effective=NOW)
    known = replace(dearer(), prices=(*dearer().prices, tape))
    agreed = [quoted()]
    book = book_then(agreed, known, NOW)
    now = a_scope(quantities=(*a_scope().quantities, a_quantity("seam_tape", 2)))
    assert amount_of(book, "seam_tape") == 14
    assert priced_since(agreed, now, known, book) == (now.quantities[-1].where,)
    assert priced_since(agreed, a_scope(), known, book) == ()


def test_an_adder_that_came_later_charges_nothing_that_was_quoted_without() -> None:
    later = an_adder("base_on", "2", effective="2026-01-01")
    known = replace(dearer(), prices=(*dearer().prices, later))
    book = book_then([quoted()], known, NOW)
    assert book.find("adder", "base_on", "", TODAY) is None


def test_what_a_change_order_priced_keeps_that_price_for_the_next() -> None:
    tape = a_quantity("seam_tape", 2)
    scope = a_scope(quantities=(*a_scope().quantities, tape))
    book = a_book(*a_book().prices, a_material("seam_tape", "11", effective="2026-05-01"))
    order = AgreedPrice(scope=scope, priced=price_scope(scope, book, terms(as_of="2026-05-02")))
    later = a_material("seam_tape", "14", effective=NOW)
    known = replace(dearer(), prices=(*dearer().prices, later))
    assert amount_of(book_then([quoted(), order], known, NOW), "seam_tape") == 11


def older(agreed: AgreedPrice) -> AgreedPrice:
    return AgreedPrice(scope=agreed.scope, priced=replace(agreed.priced, basis=None))


def test_an_older_quote_gives_its_shares_by_its_figures() -> None:
    now = PricingTerms(as_of=NOW, margin=Decimal("0.4"), overhead=Decimal("0.3"))
    agreed = older(quoted())
    then = terms_then(agreed.priced, now)
    assert (then.margin, then.overhead) == (Decimal("0.25"), Decimal("0.12"))
    assert rate_then(agreed.priced) == 50


def test_an_older_quote_by_rates_gives_the_margin_of_its_material() -> None:
    book = a_book(*a_book().prices, an_adder("floor_area", "4.10"), an_adder("base_on", "2"))
    agreed = older(quoted(book, method="rates"))
    now = PricingTerms(as_of=NOW, margin=Decimal("0.4"))
    then = terms_then(agreed.priced, now)
    assert (then.method, then.margin) == ("rates", Decimal("0.25"))


def test_an_older_quote_has_the_prices_in_force_on_its_day() -> None:
    agreed = older(quoted())
    known = replace(dearer(), prices=dearer().prices[:-1])
    book = book_then([agreed], known, NOW)
    assert [amount_of(book, "cartons", "plank"), book.burdened_rate] == [60, 50]
