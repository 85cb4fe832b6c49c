"""One evening: a company set up, a quote written with two choices, mailed, chosen and accepted."""

from __future__ import annotations

import re
import time
import urllib.request
from email.message import EmailMessage

import pytest
from playwright.sync_api import Page, expect

from estimates.models import Acceptance, Quote, QuoteEvent
from estimates.readers.quote import stored_quote
from jobs.models import Mail, User
from jobs.services.files import read_file
from jobs.worker.worker import carry_out_waiting
from tests.browser.hands import Hands, look_at
from tests.browser.quotes import by_hand
from tests.browser.quotes.by_hand import INES
from tests.browser.typist import Typist
from tests.conftest import PHONE
from tests.mail_server import Mailbox, mail_server

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

SEEN_AFTER_MS = 5000


def text_in(mail: EmailMessage) -> str:
    body = mail.get_body(("plain",))
    assert body is not None
    return str(body.get_content())


def link_in(mail: EmailMessage) -> str:
    """Return the link of a mail, whose paper is the issued one."""
    (paper,) = mail.iter_attachments()
    assert paper.get_content() == read_file(Quote.objects.get().pdf)
    link = re.search(r"http://\S+/q/\S+", text_in(mail))
    assert link is not None
    return link[0]


def at_a_phone(hands: Hands, link: str) -> Hands:
    """Somebody with a phone and no sign-in, at the link."""
    chromium = hands.page.context.browser
    assert chromium is not None
    page = chromium.new_context(viewport={"width": PHONE, "height": 844}).new_page()
    home = Hands(page=page, base="", shoot=hands.shoot)
    home.open(link)
    return home


def write_with_a_choice(typist: Typist) -> None:
    """A price for each room, and the same job another way.

    From here on pages are looked at: those before are what the first quote of a blank company took.
    """
    by_hand.write(typist)
    typist.shots = "evening"
    typist.ticks("A price for each room")
    typist.picks("second_way", "New baseboard")
    typist.hands.settle()
    typist.hands.expect("Prices missing")
    look_at(typist.hands, "evening-14-choice-without-prices")
    typist.follows("Save the draft and type them")
    by_hand.type_prices(typist)
    typist.hands.expect("Your baseboard back")
    look_at(typist.hands, "evening-15-choices")


def is_seen(quote: Quote) -> bool:
    return quote.events.filter(kind="seen").exists()


def scan(quote: Quote, link: str) -> None:
    """A scanner of mail opens the link, and nothing is noted."""
    for method in ("HEAD", "GET"):
        request = urllib.request.Request(link, method=method)
        with urllib.request.urlopen(request) as answer:
            assert answer.status == 200
    assert not is_seen(quote)


def stay(page: Page, quote: Quote) -> None:
    """Five seconds in sight are noted, and no fewer."""
    with page.expect_response(re.compile(r"/seen$")) as noted:
        page.reload()
        since = time.monotonic()
    assert noted.value.status == 204
    assert time.monotonic() - since >= SEEN_AFTER_MS / 1000 - 0.5
    assert is_seen(quote)


def choose_and_accept(home: Hands) -> None:
    """Nothing is marked beforehand; one way is chosen, a name typed, a box ticked."""
    page = home.page
    expect(page.get_by_role("radio", checked=True)).to_have_count(0)
    expect(page.get_by_role("button", name="Accept the quote")).to_be_hidden()
    look_at(home, "evening-20-phone")
    page.set_viewport_size({"width": PHONE, "height": 844})
    page.get_by_text("New baseboard", exact=True).locator("visible=true").first.click()
    home.press("Go on to your name")
    sign(home)
    home.expect("Ines Okafor accepted this quote")
    expect(page.get_by_role("button", name="Accept the quote")).to_have_count(0)
    home.expect("This one is accepted.")
    expect(page.get_by_text("You owe nothing")).to_have_count(0)
    look_at(home, "evening-21-accepted")


def sign(home: Hands) -> None:
    home.page.locator("#accept-form [name=name]").press_sequentially("Ines Okafor")
    home.page.locator("#accept-form [name=read]").check()
    home.press("Accept the quote")


def accept_once_more(late: Hands) -> None:
    """On a page opened before: nothing changes, and it says what stands."""
    before = list(Acceptance.objects.values()), Mail.objects.count(), QuoteEvent.objects.count()
    late.page.get_by_text("Your baseboard back", exact=True).locator("visible=true").first.click()
    late.press("Go on to your name")
    sign(late)
    late.expect("Ines Okafor accepted this quote")
    late.expect("New baseboard")
    late.see("evening-22-accepted-twice")
    now = list(Acceptance.objects.values()), Mail.objects.count(), QuoteEvent.objects.count()
    assert before == now


def copies_came(box: Mailbox, owner: User) -> None:
    """Both have the paper by mail, with what was accepted."""
    carry_out_waiting()
    quote = Quote.objects.get()
    paper = read_file(quote.pdf)
    _, chosen = stored_quote(quote).choices
    for address in (owner.email, INES):
        (copy,) = [mail for mail in box.to(address) if "accepted" in str(mail["Subject"])]
        assert [file.get_content() for file in copy.iter_attachments()] == [paper]
        assert f"New baseboard, ${chosen.total:,}" in text_in(copy)


def test_a_quote_is_sent_and_accepted_in_one_evening(typist: Typist, blank_owner: User) -> None:
    hands = typist.hands
    with mail_server(timeout=10) as box:
        by_hand.set_up(typist)
        by_hand.start_the_job(typist)
        by_hand.note_the_site(typist)
        by_hand.measure(typist)
        counted = Typist(hands=hands)
        by_hand.plan(counted)
        planned = counted.seconds
        by_hand.price(counted)
        write_with_a_choice(counted)
        by_hand.issue(counted)
        link = link_in(by_hand.mail(counted, box))
        line = counted.summary("a measured job, its first product included, to its sent quote")
        after = f"{counted.seconds - planned:.0f} s of them once it was planned"
        print(f"\n{line}, {after}")  # noqa: T201
        assert counted.seconds <= 5 * 60
        quote = Quote.objects.get()
        scan(quote, link)
        home, late = at_a_phone(hands, link), at_a_phone(hands, link)
        stay(home.page, quote)
        choose_and_accept(home)
        accept_once_more(late)
        copies_came(box, blank_owner)
    accepted = Acceptance.objects.get()
    chosen = {way.key: way.name for way in stored_quote(quote).choices}[accepted.choice]
    assert (accepted.name, chosen) == ("Ines Okafor", "New baseboard")
    hands.open("/")
    hands.expect("is accepted by Ines Okafor: New baseboard")
    look_at(hands, "evening-23-home")
