"""From a blank company to its first sent quote, typed by hand; clicks and keys counted."""

from __future__ import annotations

import re
import time

import pytest
from playwright.sync_api import expect
from pytest_django import Settings
from pytest_django.live_server_helper import LiveServer

from estimates.models import Quote
from jobs.models import User
from jobs.worker.worker import carry_out_waiting
from tests.browser.hands import Hands, look_at
from tests.browser.typist import Typist
from tests.builders import make_company, make_person
from tests.mail_server import Mailbox, mail_server

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

INES = "ines@example.com"
TAPE_SECONDS = 20
"""A wall measured with a tape and read aloud: our own guess, no source."""


@pytest.fixture
def owner() -> User:
    """The owner of a company of which nothing is known but its name."""
    company = make_company("Fernwood Floors", address="", phone="")
    return make_person(company, name="Mara Quill")


@pytest.fixture
def typist(hands: Hands, live_server: LiveServer, settings: Settings) -> Typist:
    """The owner's hands on an empty Home."""
    settings.SITE_URL = live_server.url
    hands.open("/")
    return Typist(hands=hands)


def set_up(typist: Typist) -> None:
    """What no quote goes out without: address, phone, e-mail."""
    typist.follows("Set up the company")
    typist.types("contact-address", "18 Mill Race Road\nHarrow Glen, PA 19000")
    typist.types("contact-phone", "555-0100")
    typist.types("contact-email", "office@example.com")
    typist.follows("Save name and address")
    typist.hands.expect("A quote can be sent")


def start_the_job(typist: Typist) -> None:
    """Client and job."""
    typist.follows("Jobs")
    look_at(typist.hands, "first-01-home")
    typist.follows("Add a client")
    typist.fills(name="Ines Okafor", phone="555-0142", email=INES, address="4 Cooper Lane")
    look_at(typist.hands, "first-02-client")
    typist.follows("Save the client")
    look_at(typist.hands, "first-03-job")
    typist.fills(title="Den and hall")
    if not typist.page.locator("[name=address]").input_value():
        typist.fills(address="4 Cooper Lane")
    typist.follows("Open the job")


def note_the_site(typist: Typist) -> None:
    """What the visit found."""
    look_at(typist.hands, "first-04-opened")
    typist.follows("Note the site facts")
    typist.fills(year_built="1994")
    typist.picks("existing_floor", "Carpet")
    typist.picks("subfloor", "Wood")
    typist.ticks("Take the old floor out")
    look_at(typist.hands, "first-05-site")
    typist.follows("Save the facts")


def measure(typist: Typist) -> None:
    """Two rooms, each by two lengths."""
    typist.steps("Rooms")
    typist.follows("Add a room")
    typist.fills(name="Den", across="12' 4 1/2", along="118")
    look_at(typist.hands, "first-06-room")
    typist.follows("Save the room")
    look_at(typist.hands, "first-07-room-saved")
    typist.follows("Add the next room")
    typist.fills(name="Hall", across="48", along="120")
    typist.follows("Save the room")
    typist.follows("Back to the rooms")
    look_at(typist.hands, "first-08-rooms")


def plan(typist: Typist) -> None:
    """The first product, and a plan of each floor."""
    typist.steps("Floor")
    typist.follows("Add a product")
    typist.fills(name="Slate Oak", length="48", width="7", thickness="1/4")
    typist.fills(per_carton="10", carton_weight="32")
    typist.picks("core", "Rigid vinyl core")
    typist.picks("attached_pad", "Yes")
    look_at(typist.hands, "first-09-product")
    typist.follows("Save the product")
    look_at(typist.hands, "first-10-floors")
    for name in ("Den", "Hall"):
        if name != "Den":
            typist.steps("Floor")
        typist.follows(f"Make {name} a floor")
        since = time.monotonic()
        typist.follows("Plan the floor")
        typist.hands.expect("Planning the floor")
        carry_out_waiting()
        typist.hands.expect("In the plan")
        typist.waits(since)
        look_at(typist.hands, f"first-11-plan-{name}")


def price(typist: Typist) -> None:
    """Every price that is missing, then the quote."""
    typist.steps("Price")
    typist.hands.expect("Without a price")
    look_at(typist.hands, "first-12-price")
    for field in typist.page.locator("[name$=-amount]").all():
        typist.types(str(field.get_attribute("name")), "12.50")
    look_at(typist.hands, "first-13-prices")
    typist.follows("Save the prices")
    look_at(typist.hands, "first-14-priced")


def write_and_send(typist: Typist, box: Mailbox, prefix: str) -> None:
    """Draft, preview, issue, mail."""
    hands = typist.hands
    typist.follows("Write the quote")
    typist.types("color", "Sand")
    hands.expect("color Sand")
    look_at(hands, f"{prefix}-15-draft")
    typist.follows("Preview the quote")
    look_at(hands, f"{prefix}-16-preview")
    typist.follows("Issue the quote")
    expect(hands.page).to_have_url(re.compile(r"/quotes/\d+$"))
    look_at(hands, f"{prefix}-17-issued")
    typist.follows("Mail the quote")
    hands.expect("The mail is on its way.")
    since = time.monotonic()
    carry_out_waiting()
    typist.waits(since)
    assert len(box.to(INES)) == 1
    hands.page.reload()
    look_at(hands, f"{prefix}-18-sent")


def test_a_blank_company_sends_its_first_quote_within_fifteen_minutes(typist: Typist) -> None:
    with mail_server(timeout=10) as box:
        set_up(typist)
        start_the_job(typist)
        note_the_site(typist)
        measure(typist)
        plan(typist)
        price(typist)
        write_and_send(typist, box, "first")
    tape = 8 * TAPE_SECONDS
    print(f"\n{typist.told('a blank company to its first sent quote')}, {tape} s of tape beside")  # noqa: T201
    assert Quote.objects.count() == 1
    assert typist.seconds + tape <= 15 * 60
