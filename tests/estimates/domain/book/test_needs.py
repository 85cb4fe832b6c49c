"""What a scope lacks prices for: the missing by item, the old by what they were set for."""

from __future__ import annotations

from datetime import date, timedelta

from estimates.domain.book.needs import PRICE_GOOD_DAYS, is_stale, needs_of
from tests.estimates.a_price import TODAY, a_book, a_material, a_quantity, a_scope, terms

DAY = date.fromisoformat(TODAY)


def keys(*prices: object, **changes: object) -> list[tuple[str, str, bool]]:
    """Code, item and whether there is an old price, of all that a scope lacks."""
    book = a_book(*prices)  # type: ignore[arg-type]
    needs = needs_of(a_scope(), book, terms(**changes))
    return [(need.code, need.item, need.price is not None) for need in needs]


def test_a_price_is_good_for_so_many_days_and_no_longer() -> None:
    assert not is_stale(DAY - timedelta(days=PRICE_GOOD_DAYS), DAY)
    assert is_stale(DAY - timedelta(days=PRICE_GOOD_DAYS + 1), DAY)


def test_a_book_with_good_prices_lacks_nothing() -> None:
    assert keys() == []


def test_a_missing_price_is_asked_for_the_thing_itself() -> None:
    assert keys(a_material("pad", "45")) == [("cartons", "plank", False)]


def test_a_price_of_another_product_is_none_for_this_one() -> None:
    other = a_material("cartons", "60", item="another plank")
    assert keys(other, a_material("pad", "45")) == [("cartons", "plank", False)]


def test_an_old_price_is_asked_for_what_it_was_set_for() -> None:
    old = a_material("cartons", "60", effective="2025-01-01")
    assert keys(old, a_material("pad", "45")) == [("cartons", "", True)]


def test_a_price_that_was_seen_lately_is_good_however_long_it_holds() -> None:
    old = a_material("cartons", "60", effective="2020-01-01", seen=TODAY)
    assert keys(old, a_material("pad", "45")) == []


def test_what_is_missing_stands_before_what_is_old() -> None:
    old = a_material("cartons", "60", effective="2020-01-01")
    assert [code for code, *_ in keys(old)] == ["pad", "cartons"]


def test_a_thing_of_two_floors_is_asked_for_once() -> None:
    scope = a_scope(quantities=tuple(a_quantity("pad", 2, zone=zone) for zone in ("up", "down")))
    assert len(needs_of(scope, a_book(a_material("cartons", "60")), terms())) == 1


def test_what_the_client_supplies_needs_no_price() -> None:
    assert keys(a_material("pad", "45"), supplied=("cartons",)) == []
