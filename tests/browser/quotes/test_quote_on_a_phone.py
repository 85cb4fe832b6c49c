"""The homeowner at a phone: reads, marks a choice, accepts; nothing marked beforehand."""

from __future__ import annotations

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect
from pytest_django.live_server_helper import LiveServer

from estimates.domain.quote import quote_document
from estimates.domain.quotes.content import IssuedQuote
from estimates.models import Acceptance, Quote, QuoteEvent, QuoteOption
from estimates.services import quotes as money
from jobs.clock import today_of
from jobs.models import User
from jobs.services.records import freeze
from tests.browser.hands import Hands, Shoot, look_at
from tests.builders import make_planned_job
from tests.conftest import PHONE
from tests.estimates.a_job import company_of, set_prices
from tests.quoted import quote_values as values

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def homeowner(page: Page, live_server: LiveServer, shoot: Shoot) -> Hands:
    """A homeowner's hands at a phone, signed in nowhere."""
    page.set_viewport_size({"width": PHONE, "height": 844})
    return Hands(page=page, base=live_server.url, shoot=shoot)


@pytest.fixture
def quote(owner: User) -> Quote:
    """A quote issued today."""
    company = company_of(owner)
    set_prices(company)
    today = today_of(company)
    job = make_planned_job(company)
    estimate = money.make_estimate(job=job, user=owner, key="estimate", today=today)
    return money.issue_quote(estimate=estimate, user=owner, key="quote", today=today)


def address_with(quote: Quote, content: IssuedQuote) -> str:
    """Put what stands on a quote in its place, and return its address."""
    fields = quote_document(content)
    company, owner = quote.job.company, quote.issued_by
    quote.document = freeze(company=company, kind="quote", content=fields, user=owner)
    quote.save()
    quote.options.all().delete()
    for place, way in enumerate(content.choices, start=1):
        QuoteOption.objects.create(
            quote=quote, place=place, key=way.key, name=way.name, estimate=quote.estimate
        )
    return reverse("quote-public", args=[quote.token])


def test_a_choice_is_marked_and_accepted(homeowner: Hands, quote: Quote) -> None:
    page, where = homeowner.page, address_with(quote, values.by_room())
    homeowner.open(where)
    look_at(homeowner, "quote-1-on-the-phone")
    page.set_viewport_size({"width": PHONE, "height": 844})
    expect(page.get_by_role("radio", checked=True)).to_have_count(0)
    expect(page.get_by_role("button", name="Accept the quote")).to_be_hidden()
    page.get_by_text("New baseboard", exact=True).locator("visible=true").first.click()
    expect(page.get_by_role("button", name="Accept the quote")).to_be_visible()
    homeowner.press("Go on to your name")
    look_at(homeowner, "quote-2-a-choice-marked")
    homeowner.page.locator("#accept-form [name=name]").fill("Ines Okafor")
    page.locator("#accept-form [name=read]").check()
    homeowner.press("Accept the quote")
    homeowner.expect("Ines Okafor accepted this quote")
    homeowner.expect("New baseboard, $4,825.57")
    # What is owed now is of the choice: the first one's sum heads the page no more.
    assert page.locator(".total .num").all_inner_texts() == ["$4,825.57"]
    assert page.locator(".most .num").all_inner_texts() == ["$4,825.57"]
    assert Acceptance.objects.get().choice == "b"
    look_at(homeowner, "quote-3-accepted")


def test_a_question_and_a_refusal(homeowner: Hands, quote: Quote) -> None:
    homeowner.open(address_with(quote, values.two_rooms()))
    look_at(homeowner, "quote-4-at-one-price")
    homeowner.page.get_by_text("Ask a question").click()
    homeowner.page.locator("[name=text]").fill("Can you start a week later?")
    homeowner.page.locator("form:has([name=text]) [name=name]").fill("Ines Okafor")
    homeowner.press("Send the question")
    homeowner.expect("Can you start a week later?")
    homeowner.page.locator("summary", has_text="Decline the quote").click()
    homeowner.press("Decline the quote")
    homeowner.expect("You declined this quote and owe nothing")
    look_at(homeowner, "quote-5-declined")
    kinds = set(QuoteEvent.objects.values_list("kind", flat=True))
    assert {"asked", "declined"} <= kinds


@pytest.mark.parametrize("example", ["nine_rooms", "by_unit", "older", "long_named", "one_room"])
def test_every_quote_fits_a_phone(homeowner: Hands, quote: Quote, example: str) -> None:
    homeowner.open(address_with(quote, getattr(values, example)()))
    look_at(homeowner, f"quote-6-{example}")
