"""From an empty company to the homeowner's acceptance, by clicks and typing, in one run."""

from __future__ import annotations

import pytest
from page import validate_pdf_bytes
from playwright.sync_api import Page
from pytest_django.live_server_helper import LiveServer

from estimates.models import Quote
from jobs.files import read_file
from jobs.models import Job, Role
from jobs.work import carry_out_waiting
from tests.browser.hands import Hands, Shoot
from tests.builders import PASSWORD, make_company, make_person

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def hands(page: Page, live_server: LiveServer, shoot: Shoot) -> Hands:
    """An owner's hands, just signed in to an empty book."""
    owner = make_person(make_company("Fernwood Floors"), Role.OWNER, name="Mara Quill")
    found = Hands(page=page, base=live_server.url, shoot=shoot)
    found.open("/sign-in")
    found.see("01-sign-in")
    found.fill(username=owner.email, password=PASSWORD)
    found.press("Sign in")
    return found


def open_the_job(hands: Hands) -> None:
    """Client and job, from the empty list of jobs."""
    hands.expect("Take down the first client")
    hands.see("02-jobs-empty")
    hands.press("Add a client")
    hands.see("03-client")
    hands.fill(name="Ines Okafor", phone="555-0142", address="4 Cooper Lane")
    hands.press("Save the client")
    hands.see("04-job-new")
    hands.fill(title="Three rooms", address="4 Cooper Lane")
    hands.press("Open the job")
    hands.expect("Cautions")
    hands.see("05-job")


def note_the_site(hands: Hands) -> None:
    """What the visit found."""
    hands.press("Note the site facts")
    hands.fill(year_built="1994", flights="1")
    hands.choose(existing_floor="Carpet", subfloor="Wood")
    hands.tick("Take the old floor out")
    hands.see("06-site")
    hands.press("Save the facts")
    hands.expect("The site facts are noted.")


def take_down_the_product(hands: Hands, job_url: str) -> None:
    """A plank product, and what a carton of it costs."""
    hands.press("Products")
    hands.see("07-products-empty")
    hands.press("Add a product")
    hands.fill(name="Slate Oak plank", length="48", width="7", thickness="1/4", per_carton="10")
    hands.see("08-product")
    hands.press("Save the product")
    hands.see("09-products")
    hands.page.goto(job_url)


def measure_the_rooms(hands: Hands) -> None:
    """A rectangle, an ell walked wall by wall, and a closet."""
    hands.step("Rooms")
    hands.see("10-rooms-empty")
    hands.press("Add a room")
    hands.fill(name="Den", across="12' 4 1/2", along="118")
    hands.expect("ft²")
    hands.see("11-room-rectangle")
    hands.press("Save the room")
    hands.press("Add the next room")
    hands.fill(name="Living room")
    walls = (("14'", "Left"), ("9'", "Left"), ("5'", "Right"), ("4'", "Left"), ("9'", "Left"))
    for row in (4, 5):
        hands.press("Add a wall")
        hands.page.locator(f"[name=wall-{row}-length]").wait_for()
    for number, (length, turn) in enumerate((*walls, ("13'", "Left"))):
        hands.fill(**{f"wall-{number}-length": length})
        hands.choose(**{f"wall-{number}-turn": turn})
    hands.see("12-room-ell")
    hands.press("Save the room")
    hands.press("Add the next room")
    hands.fill(name="Closet", across="34", along="52")
    hands.press("Save the room")
    hands.press("Back to the rooms")
    hands.see("13-rooms")


def plan_every_floor(hands: Hands) -> None:
    """Each room a floor of its own, planned by the worker."""
    for name in ("Den", "Living room", "Closet"):
        hands.step("Floor")
        hands.see(f"15-floor-{name.lower().replace(' ', '-')}")
        hands.page.get_by_role("button", name=f"Make {name} a floor").click()
        hands.see(f"16-zone-{name.lower().replace(' ', '-')}")
        hands.press("Plan the floor")
        hands.expect("Planning the floor")
        hands.see("17-planning")
        carry_out_waiting()
        hands.expect("In the plan")
        hands.see(f"18-plan-{name.lower().replace(' ', '-')}")


def price_the_job(hands: Hands) -> None:
    """Every missing price is offered and set; then the estimate is made."""
    hands.step("Price")
    hands.expect("Without a price")
    hands.see("19-price-missing")
    missing = hands.page.get_by_role("link", name="Set the price of")
    while missing.count():
        missing.first.click()
        hands.fill(amount="12.50")
        hands.see("20-price-set")
        hands.press("Set the price")
        hands.expect("The price is set.")
    hands.see("21-price")
    hands.press("Make the estimate")
    hands.see("22-estimate")


def issue_the_quote(hands: Hands) -> Quote:
    """The quote is issued; its PDF is what an accessible PDF should be."""
    hands.press("Issue the quote")
    hands.expect("It never changes.")
    hands.see("23-quote")
    hands.step("Quote")
    hands.see("24-quotes")
    return Quote.objects.get()


def accept_by_link(hands: Hands, quote: Quote) -> None:
    """The homeowner opens the link in a browser of their own and accepts."""
    own = hands.page.context.browser
    assert own is not None
    page = own.new_context().new_page()
    home = Hands(page=page, base=hands.base, shoot=hands.shoot)
    home.open(f"/q/{quote.token}")
    home.see("25-quote-public")
    home.fill(name="Ines Okafor")
    home.tick("I have read the quote and accept it.")
    home.press("Accept the quote")
    home.expect("accepted this quote")
    home.see("26-quote-accepted")


def test_an_empty_company_comes_to_an_accepted_quote(hands: Hands) -> None:
    open_the_job(hands)
    job_url = hands.page.url
    note_the_site(hands)
    take_down_the_product(hands, job_url)
    measure_the_rooms(hands)
    plan_every_floor(hands)
    price_the_job(hands)
    quote = issue_the_quote(hands)
    assert validate_pdf_bytes(read_file(quote.pdf), profile="ua1").is_compliant
    accept_by_link(hands, quote)
    assert Job.objects.get().agreed_scope == quote.estimate.scope
