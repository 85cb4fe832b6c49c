"""A quote is mailed through a real server, opened on a phone, asked about and accepted."""

from __future__ import annotations

import re
from email.message import EmailMessage

import pytest
from playwright.sync_api import Page, expect
from pytest_django import Settings
from pytest_django.live_server_helper import LiveServer

from estimates.models import Acceptance, Quote
from estimates.services import quotes as money
from jobs.clock import today_of
from jobs.models import Client, User
from jobs.services.files import read_file
from jobs.worker.worker import carry_out_waiting
from tests.browser.hands import Hands, look_at
from tests.builders import make_planned_job
from tests.conftest import PHONE
from tests.estimates.a_job import company_of, set_prices
from tests.mail_server import Mailbox, mail_server

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

INES = "ines@example.com"
SEEN_AFTER_MS = 5000


@pytest.fixture
def quote(owner: User, live_server: LiveServer, settings: Settings) -> Quote:
    """A quote issued today for somebody with an e-mail address."""
    settings.SITE_URL = live_server.url
    company = company_of(owner)
    company.phone, company.address, company.email = "555-0100", "18 Mill Road", "office@example.com"
    company.save()
    set_prices(company)
    job = make_planned_job(company)
    Client.objects.filter(pk=job.client_id).update(email=INES, phone="555-0142")
    today = today_of(company)
    estimate = money.make_estimate(job=job, user=owner, key="estimate", today=today)
    return money.issue_quote(estimate=estimate, user=owner, key="quote", today=today)


def text_in(mail: EmailMessage) -> str:
    body = mail.get_body(("plain",))
    assert body is not None
    return str(body.get_content())


def mail_it(hands: Hands, quote: Quote, box: Mailbox) -> str:
    """The owner mails the quote; return the link that came with it."""
    hands.open(f"/quotes/{quote.pk}")
    look_at(hands, "quote-to-send")
    hands.press("Mail the quote")
    hands.expect("The mail is on its way.")
    carry_out_waiting()
    (mail,) = box.to(INES)
    (paper,) = mail.iter_attachments()
    assert paper.get_content() == read_file(quote.pdf)
    link = re.search(r"http://\S+/q/\S+", text_in(mail))
    assert link is not None
    return link[0]


def homeowner(hands: Hands, link: str) -> Hands:
    """Somebody with a phone and no sign-in, at the link."""
    chromium = hands.page.context.browser
    assert chromium is not None
    page = chromium.new_context(viewport={"width": PHONE, "height": 844}).new_page()
    home = Hands(page=page, base="", shoot=hands.shoot)
    home.open(link)
    return home


def stay(page: Page, quote: Quote) -> None:
    """Opening notes nothing; five seconds in sight do."""
    page.wait_for_timeout(SEEN_AFTER_MS - 2000)
    assert not quote.events.filter(kind="seen").exists()
    with page.expect_response(re.compile(r"/seen$")) as answer:
        pass
    assert answer.value.status == 204
    assert quote.events.filter(kind="seen").count() == 1


def ask(home: Hands, hands: Hands, box: Mailbox) -> None:
    """A question goes to the owner, the answer comes back to page and mailbox."""
    home.page.get_by_text("Ask a question").click()
    home.page.locator("#ask [name=name]").fill("Ines Okafor")
    home.page.locator("#ask [name=text]").fill("Who moves the piano?")
    home.press("Send the question")
    hands.open("/")
    hands.expect("Waits on you")
    hands.expect("“Who moves the piano?”")
    look_at(hands, "home-with-a-question")
    hands.page.get_by_role("link", name=re.compile("Who moves the piano")).click()
    hands.page.get_by_label("Answer").fill("We do, two of us.")
    hands.press("Send the answer")
    hands.expect("We do, two of us.")
    look_at(hands, "quote-answered")
    home.page.reload()
    home.expect("We do, two of us.")
    carry_out_waiting()
    assert any("We do, two of us." in text_in(mail) for mail in box.to(INES))


def accept(home: Hands) -> None:
    """The homeowner types a name, ticks the box and accepts."""
    home.page.locator("#accept-form [name=name]").fill("Ines Okafor")
    home.page.locator("#accept-form [name=read]").check()
    home.press("Accept the quote")
    home.expect("accepted this quote")
    expect(home.page.get_by_role("button", name="Accept the quote")).to_have_count(0)
    home.see("quote-accepted-by-link")


def test_a_quote_goes_out_by_mail_and_its_acceptance_comes_back(
    hands: Hands, owner: User, quote: Quote
) -> None:
    with mail_server(timeout=10) as box:
        link = mail_it(hands, quote, box)
        home = homeowner(hands, link)
        stay(home.page, quote)
        ask(home, hands, box)
        accept(home)
        carry_out_waiting()
        for address in (owner.email, INES):
            copies = [mail for mail in box.to(address) if "accepted" in str(mail["Subject"])]
            assert [len(list(mail.iter_attachments())) for mail in copies] == [1]
    assert Acceptance.objects.get().name == "Ines Okafor"
    hands.open("/")
    hands.expect("is accepted by Ines Okafor")
    look_at(hands, "home-accepted")
    hands.open(f"/quotes/{quote.pk}")
    look_at(hands, "quote-accepted-office")


def test_a_quote_is_declined_on_the_phone_and_the_owner_reads_why(
    hands: Hands, quote: Quote
) -> None:
    home = homeowner(hands, f"{hands.base}/q/{quote.token}")
    home.page.get_by_text("Decline the quote").first.click()
    home.page.locator("#ask [name=reason]").fill("We wait until spring.")
    home.page.locator("#ask").get_by_role("button", name="Decline the quote").click()
    home.expect("You declined this quote")
    hands.open("/")
    hands.expect("is declined: “We wait until spring.”")
    hands.page.get_by_role("button", name=re.compile("Put aside.*declined")).click()
    expect(hands.page.get_by_role("main")).not_to_contain_text("We wait until spring.")
