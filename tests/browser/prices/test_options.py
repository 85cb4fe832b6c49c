"""Options of a floor looked at and taken, and work left to the homeowner: sums by hand."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from playwright.sync_api import expect

from estimates.models import PriceItem, PriceTerms
from estimates.services.quotes import price_now
from jobs.clock import today_of
from jobs.models import ExistingFloor, FloorZone, Job, Room, SiteFacts, User
from jobs.worker import worker
from tests.browser.hands import Hands, look_at
from tests.builders import make_planned_job, make_product, make_run
from tests.conftest import PHONE
from tests.estimates.a_job import a_quote, accepted, company_of, set_price, set_prices
from tests.jobs.agreed import a_crew, laid_out

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def job(owner: User) -> Job:
    """20.42 ft2 of tile to come out, new base, two bags, a separate pad; 50 an hour, no overhead.

    At a margin of a fifth every dollar of cost is 1.25 of price.
    """
    company = company_of(owner)
    set_prices(company)
    PriceItem.objects.update(last_seen=today_of(company))
    shares = {"overhead_percent": 0, "margin_percent": 20, "minimum_charge": 0}
    PriceTerms.objects.create(company=company, burdened_rate=50, **shares)
    job = make_planned_job(company)
    make_run(job.rooms.get())
    Room.objects.update(base="replace", leveler_bags=2)
    FloorZone.objects.update(pad=True)
    SiteFacts.objects.filter(job=job).update(existing_floor=ExistingFloor.TILE, tear_out=True)
    return job


def price_of(job: Job) -> Decimal:
    """The price of the job today, before sales tax."""
    return price_now(job, today_of(job.company))[1].subtotal


def at_margin(cost: str) -> Decimal:
    """What a cost is in a price at a margin of a fifth."""
    return round(Decimal(cost) / Decimal("0.80"), 2)


def test_five_options_stand_on_one_floor_and_one_is_taken(hands: Hands, job: Job) -> None:
    wide = make_product(job.company, name="Wide plank", width_mm=Decimal("228.6"))
    today = today_of(job.company)
    set_price(job.company, "cartons", "80.00", today)
    PriceItem.objects.filter(amount=80).update(item=wide.name)
    hands.open(f"/jobs/{job.pk}/options")
    hands.page.locator("[name=product]").select_option(label="Wide plank")
    hands.press("Plan this product")
    hands.expect("Wide plank is being planned.")
    worker.carry_out_waiting()
    hands.press("Look again")
    expect(hands.page.locator("section.option")).to_have_count(5)
    # A stick at 14.00 and a tube at 4.00 on 20.04 ft2: 0.90 a ft2.
    assert "$0.90" in hands.page.locator("#base_old").inner_text()
    look_at(hands, "80-options")
    before = price_of(job)
    hands.page.locator("#base_old button").click()
    hands.expect("The price is made with this option now.")
    assert abs(before - price_of(job) - at_margin("18.00")) <= Decimal("0.01")


def test_work_is_left_to_the_homeowner(hands: Hands, job: Job) -> None:
    before = price_of(job)
    hands.open(f"/jobs/{job.pk}/work-split")
    hands.tick("Take the old floor out")
    hands.tick("Load and dispose")
    hands.press("Save the work split")
    hands.expect("The work split is saved; the price is made with it.")
    # 1.23, 0.41 and 1.5 h at 50 are 61.50, 20.50 and 75; 20.42 ft2 at 0.35 are 7.15 at the dump.
    saves = at_margin("164.15")
    assert abs(before - price_of(job) - saves) <= Decimal("0.01")
    hands.expect("$205.1")
    look_at(hands, "81-work-split")
    hands.press("Open the price")
    hands.expect("done by the client")


def test_all_the_work_is_left_on_a_phone(hands: Hands, job: Job) -> None:
    hands.page.set_viewport_size({"width": PHONE, "height": 844})
    hands.open(f"/jobs/{job.pk}/work-split")
    hands.tick("All the work, the laying too")
    hands.press("Save the work split")
    hands.expect("The work split is saved")
    priced = price_now(job, today_of(job.company))[1]
    assert (priced.hours, priced.labor_cost) == (Decimal(0), Decimal(0))
    assert priced.subtotal == at_margin(str(priced.material_cost))
    look_at(hands, "82-work-split-all")


def test_removal_is_refused_while_a_question_is_open(hands: Hands, job: Job) -> None:
    facts = SiteFacts.objects.filter(job=job)
    facts.update(existing_floor=ExistingFloor.RESILIENT, floor_year=1970)
    hands.open(f"/jobs/{job.pk}/work-split")
    hands.tick("Take the old floor out")
    hands.press("Save the work split")
    hands.expect("once asbestos in the old floor is cleared")
    look_at(hands, "83-work-split-refused")
    facts.update(tear_out=False)
    hands.open(f"/jobs/{job.pk}/options")
    hands.expect("The old floor may hold asbestos: nobody takes it out until that is cleared.")


def test_prices_that_options_lack_are_typed_on_the_page(hands: Hands, job: Job) -> None:
    PriceItem.objects.filter(code="pad").delete()
    hands.open(f"/jobs/{job.pk}/options")
    hands.expect("no price per roll")
    look_at(hands, "84-options-without-a-price")
    hands.page.locator("[name=need0-amount]").fill("32")
    hands.press("Save the prices")
    hands.expect("1 price is saved.")
    assert hands.page.url.endswith("/options")
    assert "no price per roll" not in hands.page.get_by_role("main").inner_text()


def test_the_days_say_what_the_homeowner_does_first(hands: Hands, job: Job, owner: User) -> None:
    hands.open(f"/jobs/{job.pk}/work-split")
    for work in ("Take base off", "Take the old floor out", "Clean and hand over"):
        hands.tick(work)
    hands.press("Save the work split")
    hands.expect("The work split is saved")
    accepted(a_quote(owner, job))
    job.refresh_from_db()
    laid_out(job, a_crew(job.company), start=date(2027, 3, 8))
    hands.open(f"/jobs/{job.pk}/days")
    hands.expect("Take the old floor out (Den)")
    hands.expect("Done by the homeowner")
    look_at(hands, "85-days-with-a-split")
    hands.page.locator("table.list a").first.click()
    first = "Take base off (Den), Take the old floor out (Den); must be done before this day."
    hands.expect(f"The homeowner does: {first}")
    look_at(hands, "86-day-with-a-split")
