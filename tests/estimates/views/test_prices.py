"""The page of the price book: rows saved where they stand, with nothing that was typed lost."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.http import HttpResponse
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import PriceItem
from jobs.clock import today_of
from jobs.models import User
from tests.builders import make_product
from tests.estimates.a_job import an_owner, company_of, set_price

pytestmark = pytest.mark.django_db
HTMX = {"hx-request": "true"}


@pytest.fixture
def pad(owner: User) -> PriceItem:
    """Pad at 32.00 a roll since 2020."""
    return PriceItem.objects.get(company=company_of(owner), code="pad")


def fields_of(row: PriceItem, **changes: str) -> dict[str, str]:
    """What the form of a row sends, but for some fields."""
    typed = {
        "key": "once",
        "version": str(row.version),
        "row": str(row.pk),
        "label": row.label,
        "amount": "32.00",
        "per": "pack",
        "covers": "",
        "effective_from": today_of(row.company).isoformat(),
        "taxable": "on",
        "returnable": "on",
    }
    return {f"p{row.pk}-{name}": value for name, value in (typed | changes).items()}


def send(visitor: Visitor, row: PriceItem, *, part: bool = True, **changes: str) -> HttpResponse:
    """Save a row as the page does; as a plain form does without `part`."""
    url = reverse("price-row", args=[row.pk])
    return visitor.post(url, fields_of(row, **changes), headers=HTMX if part else None)  # type: ignore[return-value]


def text_of(visitor: Visitor, query: str = "") -> str:
    """The list of prices as text."""
    return visitor.get(reverse("price-list") + query).content.decode()


def test_a_saved_row_comes_back_alone(visitor: Visitor, pad: PriceItem) -> None:
    page = send(visitor, pad, amount="35").content.decode()
    assert page.lstrip().startswith("<tr")
    assert "Saved: $35.00 a roll" in page


def test_a_plain_form_leads_back_to_its_place_in_the_list(visitor: Visitor, pad: PriceItem) -> None:
    url = reverse("price-row", args=[pad.pk]) + "?q=pad&page=2"
    answer = visitor.post(url, fields_of(pad, supplier="Example Supply"))
    assert answer.status_code == 303
    assert answer.headers["location"] == f"/prices?q=pad&page=2#price-{pad.pk}"


@pytest.mark.parametrize("part", [True, False])
def test_a_refused_row_keeps_what_was_typed_and_says_why(
    visitor: Visitor, pad: PriceItem, part: bool
) -> None:
    answer = send(visitor, pad, part=part, amount="61,50")
    page = answer.content.decode()
    assert answer.status_code == 422
    assert 'value="61,50"' in page
    assert "“61,50” can&#x27;t be used; accepted: a number such as 61.50" in page


def test_a_price_by_the_square_foot_asks_for_the_coverage(visitor: Visitor, pad: PriceItem) -> None:
    page = send(visitor, pad, amount="0.35", per="measure").content.decode()
    assert "Nothing was typed; accepted: how much a roll covers or holds, in ft2" in page


def test_a_coverage_of_nothing_is_refused(visitor: Visitor, pad: PriceItem) -> None:
    page = send(visitor, pad, per="measure", covers="0").content.decode()
    assert "“0” can&#x27;t be used; accepted: a number of more than 0" in page


@pytest.mark.parametrize(("part", "status"), [(True, 422), (False, 409)])
def test_a_stale_save_is_told_what_changed_and_may_be_sent_again(
    visitor: Visitor, pad: PriceItem, part: bool, status: int
) -> None:
    send(visitor, pad, amount="35", key="first")
    answer = send(visitor, pad, part=part, amount="36")
    page = answer.content.decode()
    assert answer.status_code == status
    assert "Price is now $35.00 a roll" in page
    newest = PriceItem.objects.filter(code="pad").latest("effective_from")
    assert f'name="p{pad.pk}-row" value="{newest.pk}"' in page


def test_html_in_a_name_stays_text(visitor: Visitor, pad: PriceItem) -> None:
    page = send(visitor, pad, supplier="<b>A</b>", label="<script>x</script>").content.decode()
    assert "&lt;b&gt;A&lt;/b&gt;" in page
    assert "<script>x" not in page + text_of(visitor)


def test_a_later_price_stands_under_the_one_in_force(visitor: Visitor, pad: PriceItem) -> None:
    later = today_of(pad.company) + timedelta(days=30)
    send(visitor, pad, amount="35", effective_from=later.isoformat())
    assert f"$35.00 a roll from {later:%b} {later.day}, {later.year}" in text_of(visitor)


def test_the_list_shows_a_thing_once_and_its_history_every_price(
    visitor: Visitor, pad: PriceItem
) -> None:
    send(visitor, pad, amount="35")
    assert text_of(visitor, "?q=pad").count('class="price-row') == 1
    history = visitor.get(reverse("price-row", args=[pad.pk])).content.decode()
    assert "$35.00 a roll" in history
    assert "$32.00 a roll" in history


@pytest.mark.parametrize("words", ["oak", "OAK 7", "example", "x-17"])
def test_every_word_is_searched_in_names_suppliers_and_codes(
    visitor: Visitor, owner: User, words: str
) -> None:
    row = set_price(company_of(owner), "cartons", "61", date(2026, 1, 1))
    PriceItem.objects.filter(pk=row.pk).update(
        item="Oak 7 x 48", supplier="Example Supply", our_code="X-17"
    )
    page = text_of(visitor, f"?q={words}")
    assert page.count('class="price-row') == 1
    assert "Oak 7 x 48" in page


def test_a_group_is_listed_alone(visitor: Visitor) -> None:
    page = text_of(visitor, "?group=Trim")
    assert page.count('class="price-row') == 3


def test_a_page_holds_thirty_rows_and_the_pager_keeps_the_search(
    visitor: Visitor, owner: User
) -> None:
    for number in range(31):
        row = set_price(company_of(owner), "caulk", "4", date(2021, 1, 1 + number))
        PriceItem.objects.filter(pk=row.pk).update(item=f"Caulk {number}")
    page = text_of(visitor, "?q=caulk")
    assert page.count('<tr id="price-') == 30
    assert "?q=caulk&amp;page=2" in page


def test_old_prices_are_one_list_on_the_page_of_prices(visitor: Visitor) -> None:
    page = text_of(visitor)
    assert "Prices missing or old" in page
    assert page.count("Still right</label>") == 19


def test_a_product_without_a_price_is_asked_for_with_what_its_carton_covers(
    visitor: Visitor, owner: User
) -> None:
    PriceItem.objects.filter(code="cartons").delete()
    make_product(company_of(owner), name="Oak 7 x 48")
    page = text_of(visitor)
    assert "Flooring, Oak 7 x 48" in page
    # 10 planks of 48 by 7 in are 3,360 in2, 23.33 ft2.
    assert 'value="23.33"' in page


def test_a_new_price_is_set_by_the_square_foot(visitor: Visitor, owner: User) -> None:
    typed = {"key": "new", "code": "cartons", "item": "Oak 7 x 48", "amount": "$2.62"}
    typed |= {"per": "measure", "covers": "23.3", "effective_from": "2026-11-01"}
    assert visitor.post(reverse("price-set"), typed).status_code == 303
    row = PriceItem.objects.get(item="Oak 7 x 48")
    assert (row.pack, row.covers, row.amount) == ("carton", Decimal("23.3"), Decimal("2.62"))


def test_another_companys_price_is_not_there(pad: PriceItem) -> None:
    stranger = Visitor()
    stranger.force_login(an_owner())
    assert send(stranger, pad, amount="1").status_code == 404
