"""Allowances in the owner's hands: from a depth survey to a capped price, and one of one's own."""

from __future__ import annotations

from decimal import Decimal

import pytest

from estimates.models import PriceItem, PriceTerms
from estimates.services.quotes import price_now
from jobs.clock import today_of
from jobs.models import Job, User
from tests.browser.hands import Hands, look_at
from tests.builders import make_planned_job, make_run
from tests.conftest import PHONE
from tests.estimates.a_job import company_of, set_prices

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def job(owner: User) -> Job:
    """A planned den of 60 by 49 in, its base put back: 48 an hour, overhead 12 %, margin 25 %."""
    company = company_of(owner)
    set_prices(company)
    PriceItem.objects.update(last_seen=today_of(company))
    shares = {"overhead_percent": 12, "margin_percent": 25, "minimum_charge": 0}
    PriceTerms.objects.create(company=company, burdened_rate=48, **shares)
    job = make_planned_job(company)
    make_run(job.rooms.get())
    return job


def price_of(job: Job) -> Decimal:
    """The price of the job today, before sales tax."""
    return price_now(job, today_of(job.company))[1].subtotal


def test_a_survey_becomes_bags_with_a_cap(hands: Hands, job: Job) -> None:
    before = price_of(job)
    hands.open(f"/jobs/{job.pk}/allowances")
    hands.expect("No depth survey of Den yet.")
    look_at(hands, "79-allowances-empty")
    hands.open(f"/rooms/{job.rooms.get().pk}/depths")
    hands.page.locator("[name=depth-0-x]").fill("2'")
    hands.page.locator("[name=depth-0-y]").fill("2'")
    hands.page.locator("[name=depth-0-depth]").fill('1/2"')
    hands.press("Save the depths")
    hands.open(f"/jobs/{job.pk}/allowances")
    # 60 x 49 x 7/16 to 9/16 in are 0.744 to 0.957 ft3; over 0.45 a bag 1.7 to 2.1.
    hands.expect("Depth survey of Den: 2 to 3 bags, 1 to 1.5 h, each depth 1/16 in more or less.")
    # 38 and half an hour at 48 are 62; x 1.12 / 0.75 = 92.59; three are 277.77.
    hands.expect("The most: $277.77.")
    hands.page.locator("#offer-bags button").click()
    hands.expect("the allowance is added.")
    assert price_of(job) == before + Decimal("277.77")
    # The owner sells at 95 and no more than two: 190.
    hands.page.locator("[name$=-unit_price]").first.fill("95")
    hands.page.locator("[name$=-cap]").first.fill("2")
    hands.press("Save Low spots filled with leveler")
    hands.expect("the allowance is saved.")
    assert price_of(job) == before + Decimal("190.00")
    look_at(hands, "80-allowances-bags")


def test_one_of_your_own_on_a_phone(hands: Hands, job: Job) -> None:
    hands.page.set_viewport_size({"width": PHONE, "height": 844})
    before = price_of(job)
    hands.open(f"/jobs/{job.pk}/allowances")
    hands.page.get_by_text("An allowance of your own").click()
    hands.page.locator("[name=new-label]").fill("Old glue sanded off")
    hands.page.locator("[name=new-cap]").fill("3")
    hands.page.locator("[name=new-unit]").fill("hour")
    hands.page.locator("[name=new-unit_cost]").fill("48")
    hands.page.locator("[name=new-evidence]").fill(" ")
    hands.press("Add your allowance")
    hands.expect("accepted: what was seen, or why nobody can count it.")
    look_at(hands, "81-allowance-refused")
    hands.page.set_viewport_size({"width": PHONE, "height": 844})
    hands.page.locator("[name=new-evidence]").fill("Glue shows at the edge of the carpet.")
    hands.press("Add your allowance")
    hands.expect("the allowance is added.")
    # 48 x 1.12 / 0.75 = 71.68; three hours are 215.04.
    assert price_of(job) == before + Decimal("215.04")
    look_at(hands, "82-allowance-of-ones-own")
    hands.press("Remove Old glue sanded off")
    hands.expect("the allowance is taken off.")
    assert price_of(job) == before


def test_the_page_works_by_the_keyboard(hands: Hands, job: Job) -> None:
    hands.open(f"/jobs/{job.pk}/allowances")
    hands.page.locator("[name=screws-cap]").focus()
    hands.page.keyboard.type("40")
    hands.page.keyboard.press("Enter")
    hands.expect("Screws in loose spots: the allowance is added.")
    assert job.allowances.get().units == 40
