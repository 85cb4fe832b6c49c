"""Links that open nothing, and pages that were overtaken: plain words, and nothing is changed."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect
from pytest_django.live_server_helper import LiveServer

from estimates.models import Acceptance, Quote, QuoteLink
from estimates.services import quotes as money
from jobs.clock import today_of
from jobs.models import User
from tests.browser.hands import Hands, Shoot, look_at
from tests.builders import make_planned_job
from tests.conftest import PHONE
from tests.estimates.a_job import company_of, set_prices

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

CLOSED = "This link opens nothing"


@pytest.fixture
def quote(owner: User) -> Quote:
    """A quote issued today."""
    company = company_of(owner)
    set_prices(company)
    job, today = make_planned_job(company), today_of(company)
    estimate = money.make_estimate(job=job, user=owner, key="estimate", today=today)
    return money.issue_quote(estimate=estimate, user=owner, key="quote", today=today)


@pytest.fixture
def homeowner(page: Page, live_server: LiveServer, shoot: Shoot) -> Hands:
    """A homeowner's hands at a phone, signed in nowhere."""
    page.set_viewport_size({"width": PHONE, "height": 844})
    return Hands(page=page, base=live_server.url, shoot=shoot)


def open_at(homeowner: Hands, quote: Quote) -> None:
    homeowner.open(reverse("quote-public", args=[quote.token]))


def accept(homeowner: Hands) -> None:
    homeowner.page.locator("#accept-form [name=name]").fill("Ines Okafor")
    homeowner.page.locator("#accept-form [name=read]").check()
    homeowner.press("Accept the quote")


def test_a_guessed_link_opens_nothing(homeowner: Hands, quote: Quote) -> None:
    with homeowner.page.expect_response("**/q/*") as answer:
        homeowner.open(reverse("quote-public", args=[quote.token[:-1] + "_"]))
    assert answer.value.status == 404
    homeowner.expect(CLOSED)
    look_at(homeowner, "link-1-guessed")


def test_on_a_page_whose_link_expired_meanwhile_nothing_is_accepted(
    homeowner: Hands, quote: Quote
) -> None:
    open_at(homeowner, quote)
    QuoteLink.objects.update(expires_on=today_of(quote.job.company) - timedelta(days=1))
    accept(homeowner)
    homeowner.expect(CLOSED)
    assert not Acceptance.objects.exists()
    open_at(homeowner, quote)
    homeowner.expect(CLOSED)


def test_a_quote_withdrawn_while_the_homeowner_types_is_not_accepted(
    homeowner: Hands, quote: Quote, owner: User
) -> None:
    open_at(homeowner, quote)
    money.withdraw_quote(quote=quote, user=owner)
    accept(homeowner)
    homeowner.expect("has withdrawn this quote")
    expect(homeowner.page.get_by_role("button", name="Accept the quote")).to_have_count(0)
    look_at(homeowner, "link-2-withdrawn")
    assert not Acceptance.objects.exists()


def test_an_expired_quote_says_so_and_cannot_be_accepted(homeowner: Hands, quote: Quote) -> None:
    open_at(homeowner, quote)
    Quote.objects.update(valid_until=today_of(quote.job.company) - timedelta(days=1))
    accept(homeowner)
    homeowner.expect("The price held until")
    expect(homeowner.page.get_by_role("button", name="Accept the quote")).to_have_count(0)
    look_at(homeowner, "link-3-expired")
    assert not Acceptance.objects.exists()


def test_a_question_is_an_act_by_which_the_quote_is_seen(homeowner: Hands, quote: Quote) -> None:
    homeowner.page.route("**/seen", lambda route: route.abort())
    open_at(homeowner, quote)
    assert not quote.events.exists()
    homeowner.page.get_by_text("Ask a question").click()
    homeowner.page.get_by_label("Your name").last.fill("Ines Okafor")
    homeowner.page.get_by_label("Your question").fill("Who moves the piano?")
    homeowner.press("Send the question")
    homeowner.expect("Who moves the piano?")
    assert set(quote.events.values_list("kind", flat=True)) == {"asked", "seen"}
