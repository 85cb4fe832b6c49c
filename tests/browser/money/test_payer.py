"""A store pays by its unit prices and sends its own flooring, which comes short: sums by hand."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

import pytest

from estimates.models import PriceItem, PriceTerms
from estimates.services.quotes import price_now
from jobs.clock import today_of
from jobs.models import Client, Job, User
from jobs.services.payers.supplied import needs_now
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
    shares = {"overhead_percent": 10, "margin_percent": 20, "minimum_charge": 450}
    PriceTerms.objects.create(company=company, burdened_rate=50, **shares)
    return make_planned_job(company)


def test_a_store_pays_and_its_flooring_comes_short(hands: Hands, job: Job) -> None:
    flooring = next(need for need in needs_now(job) if need.code == "cartons")
    hands.open(f"/jobs/{job.pk}")
    hands.press("Open the payer")
    look_at(hands, "payer-1-empty")
    hands.fill(new_name="Alder Store", order_number="4711", payment_days="30")
    hands.fill(retainage_percent="10")
    hands.tick("The payer's unit prices")
    hands.press("Save the payer")
    hands.expect("The payer is saved.")

    hands.open(f"/jobs/{job.pk}/price")
    hands.expect("Payer: Alder Store, order 4711")
    hands.expect("Trip: no unit price agreed with Alder Store")
    look_at(hands, "payer-2-price-missing")
    for code, amount, label in (("floor_area", "9", "Laying"), ("trips", "45", "Trip")):
        hands.page.locator(f"[name=rate-{code}-amount]").fill(amount)
        hands.press(f"Save {label}")
        hands.expect(f"{label}: ${amount}.00 a")

    hands.press("Open the material supplied")
    hands.page.locator("select[name^=whose-cartons]").select_option(label="The payer's")
    hands.press("Save whose it is")
    hands.expect("It is saved whose the material is.")
    hands.press(f"Count {flooring.label}")
    look_at(hands, "payer-3-count")
    hands.fill(counted=str(flooring.amount), faulty="1", lot="A1", faults="broken corners")
    hands.press("Save the count")
    hands.expect("1 carton short.")
    look_at(hands, "payer-4-supplied")

    hands.press("Offer a paid trip")
    # Our trip is 1 h at 50; the store agreed to 45.00 for one.
    hands.expect("priced at $45.00")
    look_at(hands, "payer-5-offer")
    hands.press("Add the trip to the price")
    hands.expect("is added to the price")

    scope, priced = price_now(Job.objects.get(pk=job.pk), today_of(job.company))
    trips = sum(entry.amount for entry in scope.quantities if entry.code == "trips")
    bought = [line.cost for line in priced.lines if line.kind == "material"]
    # 20.42 ft2 at 9.00 is 183.78; trips and the trip back at 45.00; our material x 1.10 / 0.80,
    # the store's flooring at nothing.
    material = [(cost * 11 / 8).quantize(CENT, ROUND_HALF_UP) for cost in bought]
    by_hand = Decimal("183.78") + 45 * (trips + 1) + sum(material, Decimal(0))
    assert priced.subtotal == by_hand
    assert [line.cost for line in priced.lines if line.code == "cartons"] == [0]
    held = (priced.total / 10).quantize(CENT, ROUND_HALF_UP)
    hands.expect(f"Retainage of 10%: ${held:,.2f} is held back.")
    store = Client.objects.get(name="Alder Store")
    hands.open(f"/clients/{store.pk}/prices")
    hands.expect("Unit prices of Alder Store")
    look_at(hands, "payer-6-unit-prices")
