"""From an empty company to a margin review, by clicks and typing, in one run."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from decimal import Decimal
from io import BytesIO

import pytest
from django.db.models import Sum
from page import validate_pdf_bytes
from playwright.sync_api import Error, Page
from pypdf import PdfReader
from pytest_django.live_server_helper import LiveServer

from estimates.models import Quote
from jobs.clock import today_of
from jobs.models import Company, LogEntry, Packet, Role, WorkDay
from jobs.readers.scope import scope_value
from jobs.services.files import read_file
from jobs.worker.worker import carry_out_waiting
from tests.browser.hands import Hands, Shoot
from tests.builders import PASSWORD, make_company, make_person

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def hands(page: Page, live_server: LiveServer, shoot: Shoot) -> Hands:
    """An owner's hands, just signed in to an empty book."""
    owner = make_person(make_company("Fernwood Floors"), Role.OWNER, name="Mara Quill")
    hands = Hands(page=page, base=live_server.url, shoot=shoot)
    hands.open("/sign-in")
    hands.see("01-sign-in")
    hands.fill(username=owner.email, password=PASSWORD)
    hands.press("Sign in")
    return hands


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
    hands.choose(core="Rigid vinyl core", attached_pad="No")
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
        hands.settle()
    for number, (length, turn) in enumerate((*walls, ("13'", "Left"))):
        hands.fill(**{f"wall-{number}-length": length})
        hands.choose(**{f"wall-{number}-turn": turn})
    hands.expect("ft²")
    hands.settle()
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
    for field in hands.page.locator("[name$=-amount]").all():
        field.fill("12.50")
    hands.see("20-price-answers")
    hands.press("Save the prices")
    hands.expect("prices are saved.")
    hands.see("21-price")
    hands.press("Save the estimate")
    hands.see("22-estimate")


def issue_the_quote(hands: Hands) -> Quote:
    """The quote is drafted, previewed and issued."""
    hands.press("Write the quote")
    hands.press("Preview the quote")
    hands.press("Issue the quote")
    hands.expect("Locked.")
    hands.see("23-quote")
    hands.step("Quote")
    hands.see("24-quotes")
    return Quote.objects.get()


def accept_by_link(hands: Hands, quote: Quote) -> None:
    """The homeowner opens the link in a browser of their own and accepts."""
    chromium = hands.page.context.browser
    assert chromium is not None
    page = chromium.new_context().new_page()
    home = Hands(page=page, base=hands.base, shoot=hands.shoot)
    home.open(f"/q/{quote.token}")
    home.see("25-quote-public")
    home.page.locator("#accept-form [name=name]").fill("Ines Okafor")
    home.page.locator("#accept-form [name=read]").check()
    home.press("Accept the quote")
    home.expect("accepted this quote")
    home.see("26-quote-accepted")
    page.context.close()


def put_a_crew_together(hands: Hands, job_url: str) -> None:
    """A person of the crew, and the crew."""
    hands.press("Company")
    hands.see("27-company")
    hands.press("Add a person")
    hands.fill(name="Lio Hart", email="lio@example.com", password=PASSWORD)
    hands.choose(role="Crew")
    hands.see("28-person")
    hands.press("Save the person")
    hands.press("Crews")
    hands.see("29-crews-empty")
    hands.press("Add a crew")
    hands.fill(name="Mill crew")
    hands.tick("Lio Hart")
    hands.see("30-crew")
    hands.press("Save the crew")
    hands.page.goto(job_url)


def lay_out_the_days(hands: Hands) -> None:
    """The agreed scope on days of the crew, from today."""
    hands.step("Days")
    hands.see("31-days-empty")
    hands.page.locator("select[name=crew]").select_option(index=1)
    hands.fill(start=today_of(Company.objects.get()).isoformat())
    hands.press("Plan the days")
    hands.expect("The work lies on 6 days")
    hands.see("32-days")
    hands.press("Days")
    hands.see("33-week")
    hands.page.go_back()


def print_the_packet(hands: Hands) -> None:
    """The packet comes from the worker; it is an accessible PDF and names no price."""
    hands.step("Packet")
    hands.see("34-packets-empty")
    hands.press("Print the packet")
    carry_out_waiting()
    # The page itself opens anew once the packet is made: whichever of the two comes first.
    with suppress(Error):
        hands.page.reload()
    hands.see("35-packets")
    pdf = read_file(Packet.objects.get().pdf)
    assert accessibility_faults(pdf) == []
    assert "$" not in text_of(pdf)


def accessibility_faults(pdf: bytes) -> list[str]:
    """Return what the PDF/UA-1 check (ISO 14289-1:2014) finds wrong."""
    return [str(fault) for fault in validate_pdf_bytes(pdf, profile="ua1").failures]


def text_of(pdf: bytes) -> str:
    """Return all words of a PDF."""
    return " ".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages)


def log_every_day(hands: Hands) -> None:
    """Each day as planned, its rows and, once, a spoiled plank."""
    for day in WorkDay.objects.order_by("number"):
        hands.open(f"/days/{day.pk}")
        hands.see(f"36-day-{day.number}")
        hands.press("Log this day")
        hands.page.locator("#as-planned").click()
        hands.see(f"37-log-{day.number}")
        hands.press("Save the log")
        hands.page.wait_for_url(f"**/days/{day.pk}")
    hands.step("Log")
    hands.see("38-log")


def buy_and_review(hands: Hands) -> None:
    """What was bought, and what the job earned after all."""
    hands.step("Review")
    hands.press("Open the purchases")
    hands.see("39-purchases-empty")
    hands.press("Add the first purchase")
    hands.choose(code="Flooring, per carton")
    hands.fill(quantity="16", amount="400", bought_on=today_of(Company.objects.get()).isoformat())
    hands.see("40-purchase")
    hands.page.get_by_role("main").get_by_role("button").first.click()
    hands.see("41-purchases")
    hands.step("Review")
    hands.see("42-review")
    hands.press("Close the job")
    hands.expect("is closed")
    hands.see("43-review-closed")


def test_an_empty_company_comes_to_an_accepted_quote_and_a_margin_review(hands: Hands) -> None:
    open_the_job(hands)
    job_url = hands.page.url
    note_the_site(hands)
    take_down_the_product(hands, job_url)
    measure_the_rooms(hands)
    plan_every_floor(hands)
    price_the_job(hands)
    quote = issue_the_quote(hands)
    assert accessibility_faults(read_file(quote.pdf)) == []
    accept_by_link(hands, quote)
    put_a_crew_together(hands, job_url)
    lay_out_the_days(hands)
    print_the_packet(hands)
    log_every_day(hands)
    buy_and_review(hands)
    scope = scope_value(quote.estimate.scope)
    work = sum(task.hours for task in scope.tasks if task.code != "travel")
    days = WorkDay.objects.all()
    # One person comes more often than the two of the price: the work is the same, not the road.
    assert sum(day.hours for day in days) - _driven(days) == work
    # As planned is in quarter hours: right to an eighth a day, and to a quarter of the road.
    logged = LogEntry.objects.exclude(task="travel").aggregate(sum=Sum("hours"))["sum"]
    assert abs(logged - work) <= Decimal("0.375") * len(days)


def _driven(days: Iterable[WorkDay]) -> Decimal:
    entries = (entry for day in days for entry in day.entries)
    return sum((Decimal(e["hours"]) for e in entries if e["task"] == "travel"), Decimal(0))
