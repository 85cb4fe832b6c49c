"""A job's price in the owner's hands: a line of one's own, 5 % off, rounding, labor only."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

import pytest

from estimates.models import PriceItem, PriceTerms
from estimates.services.quotes import price_now
from jobs.clock import today_of
from jobs.models import Job, User
from tests.browser.hands import Hands, look_at
from tests.builders import make_planned_job
from tests.conftest import PHONE
from tests.estimates.a_job import company_of, set_prices

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def job(owner: User) -> Job:
    """A planned job at 50 an hour, overhead 10 %, margin 20 %, a price for everything."""
    company = company_of(owner)
    set_prices(company)
    PriceItem.objects.update(last_seen=today_of(company))
    shares = {"overhead_percent": 10, "margin_percent": 20, "minimum_charge": 0}
    PriceTerms.objects.create(company=company, burdened_rate=50, **shares)
    return make_planned_job(company)


def price_of(job: Job) -> Decimal:
    """The price of the job today, before sales tax."""
    return price_now(job, today_of(job.company))[1].subtotal


def test_a_line_a_discount_and_rounding_are_typed_on_the_price(hands: Hands, job: Job) -> None:
    before = price_of(job)
    hands.open(f"/jobs/{job.pk}/price")
    hands.page.locator("[name=new-label]").fill("Piano moved")
    hands.page.locator("[name=new-unit_cost]").fill("100")
    hands.press("Add the line")
    hands.expect("Piano moved is added.")
    # 100 with 10 % overhead is 110; at a margin of 20 % that is 137.50.
    assert price_of(job) == before + Decimal("137.50")
    hands.page.get_by_text("Discount, rounding, labor only").click()
    hands.page.locator("[name=adjust-discount_percent]").fill("5")
    hands.page.locator("[name=adjust-discount_reason]").fill("second job")
    hands.page.locator("[name=adjust-round_to]").select_option("10")
    hands.press("Save discount and rounding")
    hands.expect("Discount and rounding are saved.")
    off = ((before + Decimal("137.50")) * Decimal("0.95")).quantize(Decimal("0.01"), ROUND_HALF_UP)
    assert price_of(job) == (off / 10).quantize(Decimal(1), ROUND_HALF_UP) * 10
    look_at(hands, "75-price-adjusted")


def test_a_labor_only_job_on_a_phone(hands: Hands, job: Job) -> None:
    hands.page.set_viewport_size({"width": PHONE, "height": 844})
    hands.open(f"/jobs/{job.pk}/price")
    hands.page.get_by_text("Discount, rounding, labor only").click()
    hands.tick("Labor only: the client buys all material")
    hands.press("Save discount and rounding")
    hands.expect("client's material")
    priced = price_now(job, today_of(job.company))[1]
    # Hours at 50, with 10 % overhead, at a margin of 20 %: hours x 68.75.
    assert (priced.material_cost, priced.subtotal) == (
        Decimal(0),
        (priced.labor_cost * Decimal("1.375")).quantize(Decimal("0.01"), ROUND_HALF_UP),
    )
    look_at(hands, "76-price-labor-only")


def test_a_refused_discount_keeps_what_was_typed(hands: Hands, job: Job) -> None:
    hands.open(f"/jobs/{job.pk}/price")
    hands.page.get_by_text("Discount, rounding, labor only").click()
    hands.page.locator("[name=adjust-discount_amount]").fill("90000")
    hands.page.locator("[name=adjust-discount_reason]").fill("slip")
    hands.press("Save discount and rounding")
    hands.expect("the price before it")
    look_at(hands, "77-price-refused")


def test_tax_is_typed_by_job(hands: Hands, job: Job) -> None:
    before = price_of(job)
    hands.open(f"/jobs/{job.pk}/price")
    hands.page.locator("#tax summary").click()
    hands.page.locator("[name=tax-tax_mode]").select_option("all")
    hands.page.locator("[name=tax-state_percent]").fill("6")
    hands.page.locator("[name=tax-county_percent]").fill("1.5")
    hands.page.locator("[name=tax-city_percent]").fill("0.5")
    hands.press("Save the tax")
    hands.expect("8%: state 6%, county 1.5%, city 0.5%")
    priced = price_now(job, today_of(job.company))[1]
    # Nothing is taxed when it is bought, at a rate of nought before, so the price stays.
    assert (priced.subtotal, priced.tax) == (
        before,
        (before * Decimal("0.08")).quantize(Decimal("0.01"), ROUND_HALF_UP),
    )
    look_at(hands, "78-price-taxed")
