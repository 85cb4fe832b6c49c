"""A thicker plank is offered, chosen by the homeowner at a phone, and the floor is that product's.

From the draft to the pages that follow: floor, takeoff, what changed.
"""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from estimates.models import PriceItem, Quote
from estimates.readers.quote import stored_quote
from jobs.clock import today_of
from jobs.models import FloorZone, Job, Product, User
from jobs.readers.plan_request import whats_changed
from tests.browser.hands import Hands, look_at
from tests.builders import make_doorway, make_planned_job, make_product, make_run
from tests.conftest import PHONE
from tests.estimates.a_job import company_of, set_prices
from tests.jobs.plans import planned_in

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

INCH = Decimal("25.4")


@pytest.fixture
def thick(owner: User) -> Product:
    """A den whose base comes off and goes back, planned in 1/4 in and in 3/8 in."""
    company = company_of(owner)
    set_prices(company)
    PriceItem.objects.update(last_seen=today_of(company))
    job = make_planned_job(company)
    den = job.rooms.get()
    make_run(den)
    up = INCH * Decimal("0.75")
    make_doorway(den, beyond_kind="tile", beyond_high_mm=up, treatment="reducer")
    sizes = {"thickness_mm": INCH * 3 / 8, "width_mm": INCH * 9, "per_carton": 6}
    product = make_product(company, name="Harbor Oak", **sizes)
    planned_in(job.zones.get(), product)
    return product


def draft(hands: Hands, job: Job) -> Quote:
    """Three choices, one of them in the thicker plank, issued."""
    hands.open(f"/jobs/{job.pk}/price")
    hands.press("Write the quote")
    hands.choose(second_way="New baseboard", third_way="Thicker plank: Harbor Oak, new baseboard")
    hands.settle()
    hands.expect("The floor stands")
    look_at(hands, "boards-1-draft")
    hands.press("Preview the quote")
    hands.expect("Thicker plank, new baseboard")
    look_at(hands, "boards-2-preview")
    hands.press("Issue the quote")
    hands.expect("is issued")
    return Quote.objects.get()


def choose(hands: Hands, quote: Quote) -> Hands:
    """The homeowner's phone, signed in nowhere: the thicker plank is taken."""
    chromium = hands.page.context.browser
    assert chromium is not None
    page = chromium.new_context(viewport={"width": PHONE, "height": 844}).new_page()
    home = Hands(page=page, base=hands.base, shoot=hands.shoot)
    home.open(reverse("quote-public", args=[quote.token]))
    expect(page.get_by_role("radio", checked=True)).to_have_count(0)
    look_at(home, "boards-3-phone")
    page.set_viewport_size({"width": PHONE, "height": 844})
    name = page.get_by_text("Thicker plank, new baseboard", exact=True)
    name.locator("visible=true").first.click()
    home.press("Go on to your name")
    page.locator("#accept-form [name=name]").fill("Ines Okafor")
    page.locator("#accept-form [name=read]").check()
    home.press("Accept the quote")
    return home


def test_the_homeowner_takes_the_thicker_plank(hands: Hands, thick: Product) -> None:
    job = Job.objects.get()
    quote = draft(hands, job)
    home = choose(hands, quote)
    chosen = stored_quote(quote).choices[2]
    home.expect("Ines Okafor accepted this quote")
    home.expect(f"Thicker plank, new baseboard, ${chosen.total:,}")
    look_at(home, "boards-4-accepted")
    zone = FloorZone.objects.get()
    plan = zone.plans.first()
    assert plan is not None
    assert (zone.product, whats_changed(plan)) == (thick, "")
    hands.open(f"/floors/{zone.pk}")
    hands.expect("Harbor Oak")
    look_at(hands, "boards-5-floor")
    hands.open(reverse("job-price", args=[job.pk]))
    hands.expect("Harbor Oak")
    look_at(hands, "boards-6-price")
    hands.open(reverse("job-changes", args=[job.pk]))
    look_at(hands, "boards-7-changes")


def test_a_choice_whose_room_was_measured_anew_is_refused_in_plain_words(
    hands: Hands, thick: Product
) -> None:
    quote = draft(hands, Job.objects.get())
    zone = FloorZone.objects.get()
    zone.rooms.update(outline=[[0, 0], [70, 0], [70, 49], [0, 49]])
    home = choose(hands, quote)
    home.expect("Den changed since it was priced")
    look_at(home, "boards-8-refused")
    assert FloorZone.objects.get().product != thick
