"""A measured job becomes a price by hand, counted; figures are edited where they stand."""

from __future__ import annotations

import logging
from decimal import Decimal

import pytest
from playwright.sync_api import expect

from estimates.models import Estimate, PriceItem, PriceTerms
from estimates.services.quotes import price_now
from jobs.clock import today_of
from jobs.models import Job, Rate, SiteFacts, User
from tests.browser.hands import Hands, look_at
from tests.builders import (
    make_doorway,
    make_job,
    make_plan,
    make_product,
    make_room,
    make_run,
    make_zone,
)
from tests.conftest import PHONE
from tests.estimates.a_job import company_of, set_prices

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
log = logging.getLogger(__name__)


@pytest.fixture
def job(owner: User) -> Job:
    """Two rooms measured and planned as one floor, old carpet to come out; no price is known."""
    company = company_of(owner)
    job = make_job(company)
    SiteFacts.objects.filter(job=job).update(existing_floor="carpet", tear_out=True)
    den = make_room(job, "Den", (120, 96), base="replace", furniture="some")
    hall = make_room(job, "Hall", (96, 48), base="replace")
    for room, wall_mm in ((den, 3048), (hall, 2438)):
        make_run(room, length_mm=Decimal(wall_mm))
    make_doorway(den, casings=2, doors_off=1, treatment="reducer")
    oak = make_product(company, name="Oak 7 x 48")
    make_plan(make_zone(den, oak, pad=True, barrier=True))
    make_plan(make_zone(hall, oak, pad=True, barrier=True))
    shares = {"overhead_percent": 10, "margin_percent": 20, "minimum_charge": 0}
    PriceTerms.objects.create(company=company, burdened_rate=50, **shares)
    return job


@pytest.fixture
def priced_job(job: Job) -> Job:
    """The same job with a price for everything, seen today."""
    set_prices(job.company)
    PriceItem.objects.update(last_seen=today_of(job.company))
    return job


def price_of(job: Job) -> Decimal:
    """The price of the job today, before sales tax."""
    return price_now(job, today_of(job.company))[1].subtotal


def test_a_measured_two_room_job_is_priced(hands: Hands, job: Job) -> None:
    hands.open(f"/jobs/{job.pk}/rooms")
    hands.step("Price")
    look_at(hands, "80-price-without-prices")
    fields = hands.page.locator("[name^=need][name$=-amount]")
    fields.first.focus()
    hands.clicks += 1
    typed, keys = fields.count(), 0
    for place in range(typed):
        amount = "61.00" if place == 0 else "12.50"
        fields.nth(place).focus()
        hands.page.keyboard.type(amount)
        keys += len(amount) + 1
    hands.page.keyboard.press("Enter")
    hands.expect("prices are saved.")
    keys += 1
    hands.press("Save the estimate")
    hands.expect("is made")
    log.info("two rooms priced: %d fields, %d clicks, %d keys", typed, hands.clicks, keys)
    look_at(hands, "81-estimate-groups")
    estimate = Estimate.objects.get(job=job)
    assert estimate.total == price_of(job)
    # A field for each thing that has no price, one list, one button: no page a price.
    assert typed <= 13
    assert hands.clicks <= 3
    assert keys <= 100


def test_every_figure_is_one_tap_from_its_source(hands: Hands, priced_job: Job) -> None:
    hands.open(f"/jobs/{priced_job.pk}/price")
    look_at(hands, "82-price-closed")
    for group in hands.page.locator(".price-group > summary").all():
        group.click()
    look_at(hands, "83-price-open")
    hands.page.get_by_role("link", name="80.5 ft² of Floor laid, Den").first.click()
    hands.page.wait_for_url(f"**/floors/{priced_job.zones.get(name='Den').pk}")


def test_a_price_is_edited_where_it_stands(hands: Hands, priced_job: Job) -> None:
    before = price_now(priced_job, today_of(priced_job.company))[1]
    cartons = sum(line.quantity for line in before.lines if line.code == "cartons")
    hands.open(f"/jobs/{priced_job.pk}/price")
    hands.page.locator("#group-floor > summary").click()
    hands.page.get_by_role("link", name="change the price of Flooring").first.click()
    amount = hands.page.locator("[name=here-amount]")
    expect(amount).to_be_focused()
    look_at(hands, "84-price-edited-here")
    amount.fill("sixty")
    amount.press("Enter")
    hands.expect("“sixty” can't be used")
    hands.page.locator("[name=here-amount]").fill("70")
    hands.page.locator("[name=here-amount]").press("Enter")
    hands.expect("the price is saved")
    expect(hands.page.locator("#group-floor")).to_have_attribute("open", "")
    # Each carton 10 more at cost: x 1.10 / 0.80 = 13.75 more on the price.
    after = price_now(priced_job, today_of(priced_job.company))[1]
    assert after.material_cost - before.material_cost == 10 * cartons
    assert abs(after.subtotal - before.subtotal - cartons * Decimal("13.75")) <= Decimal("0.01")


def test_a_rate_is_edited_where_it_stands_on_a_phone(hands: Hands, priced_job: Job) -> None:
    hands.page.set_viewport_size({"width": PHONE, "height": 844})
    hands.open(f"/jobs/{priced_job.pk}/price")
    hands.page.locator("#group-lay > summary").click()
    hands.page.get_by_role("link", name="change the rate of Floor laid").first.click()
    look_at(hands, "85-rate-edited-here")
    field = hands.page.locator("[name=rate-hours]")
    field.fill("2.5")
    field.press("Enter")
    hands.expect("the rate is saved, for every job from now on.")
    rate = Rate.objects.get(company=priced_job.company)
    assert (rate.task, rate.driver, rate.hours, rate.per, rate.source) == (
        *("lay", "floor_area"),
        *(Decimal("2.5"), Decimal(100), "our own"),
    )
    expect(hands.page.locator("#group-lay")).to_contain_text("2.5 h per 100 ft²")


def test_groups_open_by_the_keyboard(hands: Hands, priced_job: Job) -> None:
    hands.open(f"/jobs/{priced_job.pk}/price")
    hands.page.locator("#group-lay > summary").focus()
    hands.page.keyboard.press("Enter")
    expect(hands.page.locator("#group-lay")).to_have_attribute("open", "")
    hands.page.keyboard.press("Tab")
    hands.page.keyboard.press("Tab")
    assert hands.page.evaluate("document.activeElement.closest('#group-lay') !== null")
