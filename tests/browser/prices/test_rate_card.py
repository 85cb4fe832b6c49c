"""The rate card in the owner's hands: rates typed in their rows, a job priced by them, by hand."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

import pytest

from estimates.models import PriceItem, PriceTerms
from estimates.services.quotes import price_now
from jobs.clock import today_of
from jobs.models import Job, User
from tests.browser.hands import Hands, look_at
from tests.builders import make_planned_job
from tests.estimates.a_job import company_of, set_prices

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
CENT = Decimal("0.01")


@pytest.fixture
def job(owner: User) -> Job:
    """A planned job of 60 by 49 in at 50 an hour, overhead 10 %, margin 20 %, all priced."""
    company = company_of(owner)
    set_prices(company)
    PriceItem.objects.update(last_seen=today_of(company))
    shares = {"overhead_percent": 10, "margin_percent": 20, "minimum_charge": 0}
    PriceTerms.objects.create(company=company, burdened_rate=50, **shares)
    return make_planned_job(company)


def rate(hands: Hands, name: str, amount: str, label: str) -> None:
    """Type a rate into its row and save the row."""
    hands.page.locator(f"[name=rate-{name}-amount]").fill(amount)
    hands.press(f"Save {label}")
    hands.settle()


def test_a_job_is_priced_by_the_card(hands: Hands, job: Job) -> None:
    hands.open("/prices")
    hands.press("Open the rate card")
    look_at(hands, "90-rate-card-empty")
    rate(hands, "casings", "10", "Casing undercut")
    hands.expect("Saved: $10.00 each")
    # 0.2 h at 50 with 10 % overhead is 11.00, more than 10.
    hands.expect("costs more than its rate")
    rate(hands, "casings", "14", "Casing undercut")
    hands.expect("Saved: $14.00 each")
    rate(hands, "floor_area", "9", "Laying")
    hands.expect("Saved: $9.00 a ft²")
    look_at(hands, "91-rate-card")

    hands.open(f"/jobs/{job.pk}/price/method")
    hands.expect("Rates missing")
    look_at(hands, "92-price-method-missing")
    rate(hands, "trips", "45", "Trip")
    hands.expect("Trip: $45.00 a trip.")
    look_at(hands, "93-price-method")
    hands.tick("The rate card")
    hands.press("Save the choice")
    hands.expect("The job is priced by: The rate card.")

    scope, priced = price_now(Job.objects.get(pk=job.pk), today_of(job.company))
    trips = sum(entry.amount for entry in scope.quantities if entry.code == "trips")
    bought = [line.cost for line in priced.lines if line.kind == "material"]
    # 20.42 ft2 at 9.00 is 183.78; trips at 45.00; each line of material x 1.10 / 0.80.
    material = [(cost * 11 / 8).quantize(CENT, ROUND_HALF_UP) for cost in bought]
    by_hand = Decimal("183.78") + 45 * trips + sum(material, Decimal(0))
    assert (priced.method, priced.subtotal) == ("rates", by_hand)
    hands.expect(f"${by_hand:,.2f}")
    look_at(hands, "94-price-by-card")


def test_a_half_day_is_the_least_and_a_rate_keeps_its_history(hands: Hands, job: Job) -> None:
    hands.open("/prices/card")
    rate(hands, "half_day", "450", "Half-day minimum")
    # Half of a crew's 16 hours at 50 with 10 % overhead.
    hands.expect("$440.00")
    hands.page.locator("[name=rate-half_day-effective_from]").fill("2099-01-05")
    rate(hands, "half_day", "480", "Half-day minimum")
    hands.expect("$480.00 from Jan 5, 2099")
    hands.page.locator("#half_day").get_by_role("link", name="history").click()
    hands.expect("Every rate it had")
    hands.expect("$480.00 a job")
    look_at(hands, "95-rate-history")


def test_a_production_rate_says_where_it_comes_from(hands: Hands, job: Job) -> None:
    hands.open("/rates")
    hands.expect("default†")
    hands.page.get_by_role("link", name="Undercut casings").click()
    hands.fill(hours="0.25", source="timed on three jobs")
    hands.press("Set the rate")
    hands.expect("your own")
    look_at(hands, "96-rates")
    hands.page.get_by_role("link", name="Undercut casings").click()
    hands.expect("Every rate it had")
    look_at(hands, "97-rate")
