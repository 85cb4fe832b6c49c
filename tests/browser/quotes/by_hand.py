"""The steps from a blank company to a sent quote, each as a person clicks and types it."""

from __future__ import annotations

import re
import time
from email.message import EmailMessage

from playwright.sync_api import expect

from jobs.worker.worker import carry_out_waiting
from tests.browser.typist import Typist
from tests.mail_server import Mailbox

INES = "ines@example.com"
PRICES = {"Flooring": "61.25", "Disposal": "0.35", "nails": "0.02", "Spacers": "0.15"} | {
    "16 ft": "14.40",
    "12 ft": "10.80",
    "Caulk": "4.20",
}
"""What is typed for whatever has these words in its name; invented."""


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
    typist.looks_at("01-home")
    typist.follows("Add a client")
    typist.fills(name="Ines Okafor", phone="555-0142", email=INES, address="4 Cooper Lane")
    typist.looks_at("02-client")
    typist.follows("Save the client")
    typist.looks_at("03-job")
    typist.fills(title="Den and hall")
    if not typist.page.locator("[name=address]").input_value():
        typist.fills(address="4 Cooper Lane")
    typist.follows("Open the job")


def note_the_site(typist: Typist) -> None:
    """What the visit found."""
    typist.looks_at("04-opened")
    typist.follows("Note the site facts")
    typist.fills(year_built="1994")
    typist.picks("existing_floor", "Carpet")
    typist.picks("subfloor", "Wood")
    typist.ticks("Take the old floor out")
    typist.looks_at("05-site")
    typist.follows("Save the facts")


def measure(typist: Typist) -> None:
    """Two rooms, each by two lengths."""
    typist.steps("Rooms")
    typist.follows("Add a room")
    typist.fills(name="Den", across="12' 4 1/2", along="118")
    typist.looks_at("06-room")
    typist.follows("Save the room")
    typist.looks_at("07-room-saved")
    typist.follows("Add the next room")
    typist.fills(name="Hall", across="48", along="120")
    typist.follows("Save the room")
    typist.follows("Back to the rooms")
    typist.looks_at("08-rooms")


def plan(typist: Typist) -> None:
    """The first product, and a plan of each floor."""
    typist.steps("Floor")
    typist.follows("Add a product")
    typist.fills(name="Slate Oak", length="48", width="7", thickness="1/4")
    typist.fills(per_carton="10", carton_weight="32")
    typist.picks("core", "Rigid vinyl core")
    typist.picks("attached_pad", "Yes")
    typist.looks_at("09-product")
    typist.follows("Save the product")
    typist.looks_at("10-floors")
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
        typist.looks_at(f"11-plan-{name}")


def price(typist: Typist) -> None:
    """Every price that is missing, then the quote."""
    typist.steps("Price")
    typist.hands.expect("Without a price")
    typist.looks_at("12-price")
    type_prices(typist)
    typist.looks_at("14-priced")


def type_prices(typist: Typist) -> None:
    """Into the list of what is missing, row by row."""
    for row in typist.page.locator(".price-row:has([name$=-amount])").all():
        name = str(row.locator("[name$=-amount]").get_attribute("name"))
        title = row.locator(".entry-name").inner_text().replace("\u00a0", " ")
        typist.types(name, next(PRICES[word] for word in PRICES if word in title))
    typist.looks_at("13-prices")
    typist.follows("Save the prices")


def write(typist: Typist) -> None:
    """The draft: what no price says."""
    typist.follows("Write the quote")
    typist.types("color", "Sand")
    typist.hands.expect("color Sand")
    typist.looks_at("15-draft")


def issue(typist: Typist) -> None:
    """Looked at as it will be sent, then issued."""
    typist.follows("Preview the quote")
    typist.hands.expect("Preview: nothing is sent yet")
    typist.looks_at("16-preview")
    typist.follows("Issue the quote")
    expect(typist.page).to_have_url(re.compile(r"/quotes/\d+$"))
    typist.looks_at("17-issued")


def mail(typist: Typist, box: Mailbox) -> EmailMessage:
    """Mail the quote; return what came to the homeowner."""
    typist.follows("Mail the quote")
    typist.hands.expect("The mail is on its way.")
    since = time.monotonic()
    carry_out_waiting()
    typist.waits(since)
    typist.page.reload()
    typist.looks_at("18-sent")
    (came,) = box.to(INES)
    return came
