"""A job closed and what comes after it: a return with its receipt, a callback, planks left over."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from io import BytesIO

import pytest
from PIL import Image
from playwright.sync_api import FilePayload

from estimates.models import ClosedReview, PriceItem, Purchase
from jobs.clock import today_of
from jobs.models import Callback, Job, LeftoverStock, RateTaking, User, WorkDay
from jobs.readers.scope import scope_value
from tests.browser.hands import Hands, look_at
from tests.builders import make_crew, make_person, make_planned_job
from tests.estimates.a_job import an_agreed_job, company_of, log, set_prices

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def job(owner: User) -> Job:
    """An agreed job that was laid in two days, with seven cartons bought."""
    company = company_of(owner)
    set_prices(company)
    PriceItem.objects.update(last_seen=today_of(company))
    agreed = an_agreed_job(owner)
    assert agreed.agreed_scope is not None
    scope = scope_value(agreed.agreed_scope)
    rows = scope.zones[0].rows
    crew = make_crew(company, make_person(company, "crew", name="Ruben Ash"))
    half = rows // 2
    hours = max(scope.task("lay:Den").hours, Decimal(2))
    for number, span in ((1, (1, half)), (2, (half + 1, rows))):
        on = today_of(company) - timedelta(days=4 - number)
        day = WorkDay.objects.create(
            job=agreed, crew=crew, scope=agreed.agreed_scope, number=number, date=on, hours=8
        )
        first, last = span
        more = {"planks_spoiled": 2, "spoil_reason": "defect", "note": "The wall bows out."}
        said = more if number == 1 else {}
        log(day, "lay", str(hours), zone="Den", row_from=first, row_to=last, **said)
    Purchase.objects.create(
        job=agreed,
        code="cartons",
        label="Flooring",
        quantity=7,
        unit="carton",
        amount=420,
        bought_on=today_of(company),
    )
    return agreed


def a_receipt() -> FilePayload:
    written = BytesIO()
    Image.new("RGB", (300, 500), "white").save(written, "JPEG")
    return {"name": "receipt.jpg", "mimeType": "image/jpeg", "buffer": written.getvalue()}


def test_a_return_with_its_receipt_photographed(hands: Hands, job: Job) -> None:
    hands.open(f"/jobs/{job.pk}/purchases/add")
    hands.choose(kind="Returned for a credit", code="Flooring, per carton")
    hands.fill(quantity="1", amount="57.00", lot="A12")
    hands.page.locator("[name=receipt]").set_input_files(a_receipt())
    look_at(hands, "90-return")
    hands.press("Save the purchase")
    hands.expect("Returned for a credit")
    # 420.00 paid, 57.00 credited.
    hands.expect("$363.00")
    look_at(hands, "91-purchases")
    answer = hands.page.request.get(
        hands.base + str(hands.page.get_by_role("link", name="Photograph").get_attribute("href"))
    )
    assert answer.headers["content-type"] == "image/jpeg"
    hands.open(f"/jobs/{job.pk}/review")
    hands.expect("less $57.00 credited")


def test_what_is_no_picture_is_refused_beside_its_field(hands: Hands, job: Job) -> None:
    hands.open(f"/jobs/{job.pk}/purchases/add")
    hands.choose(kind="Bought", code="Flooring, per carton")
    hands.fill(quantity="1", amount="57.00")
    text: FilePayload = {"name": "receipt.jpg", "mimeType": "image/jpeg", "buffer": b"<svg/>"}
    hands.page.locator("[name=receipt]").set_input_files(text)
    hands.press("Save the purchase")
    hands.expect("accepted: a picture: JPEG, PNG or WebP")
    assert hands.page.locator("[name=amount]").input_value() == "57.00"
    assert Purchase.objects.count() == 1


def test_a_callback_after_closing(hands: Hands, job: Job) -> None:
    hands.open(f"/jobs/{job.pk}/review")
    hands.expect("The wall bows out.")
    look_at(hands, "92-review-open")
    hands.press("Close the job")
    hands.expect("The figures are those of that day")
    closed = ClosedReview.objects.get()
    hands.press("Open a callback")
    hands.fill(what="A board clicks by the door")
    hands.choose(cause="Our own work")
    look_at(hands, "93-callback")
    hands.press("Open the callback")
    hands.expect("The callback is open.")
    callback = Callback.objects.get()
    hands.open(f"/days/{callback.day_id}/log")
    other = hands.page.locator("summary").filter(has_text="Other")
    if other.count():
        other.first.click()
    hands.page.get_by_label("Ruben Ash, Lay").first.fill("1.5")
    hands.press("Save the log")
    hands.expect("The log is saved.")
    hands.open(f"/jobs/{job.pk}/review")
    hands.expect("A board clicks by the door")
    # 1.5 h at 48.00.
    hands.expect("$72.00")
    hands.expect("With what came since")
    look_at(hands, "94-review-closed")
    kept = ClosedReview.objects.get()
    assert kept.document.text == closed.document.text


def test_a_correction_stands_beside_the_closed_review(hands: Hands, job: Job) -> None:
    hands.open(f"/jobs/{job.pk}/review")
    hands.press("Close the job")
    hands.press("Correct the log")
    look_at(hands, "95-corrections")
    hands.page.locator("a.entry").first.click()
    hands.fill(hours="1", reason="Lunch was counted.")
    hands.press("Save the correction")
    hands.expect("Lunch was counted.")
    hands.expect("The figures are those of that day")


def test_planks_left_over_are_offered_to_the_next_plan(hands: Hands, job: Job) -> None:
    product = job.zones.get().product
    hands.open(f"/jobs/{job.pk}/purchases/add")
    hands.choose(
        kind="Kept by us for another job", code="Flooring, per carton", product=str(product)
    )
    hands.fill(quantity="1", lot="A12")
    hands.press("Save the purchase")
    planks = LeftoverStock.objects.get().planks
    hands.open("/stock")
    hands.expect(product.name)
    look_at(hands, "96-stock")
    other = make_planned_job(job.company)
    zone = other.zones.get()
    zone.product = product
    zone.save()
    hands.open(f"/floors/{zone.pk}")
    hands.page.get_by_role("button", name="Take them for this floor").click()
    hands.expect("The planks are kept for this floor.")
    hands.expect("what is at hand")
    look_at(hands, "97-floor-with-stock")
    zone.refresh_from_db()
    assert zone.stock_planks == planks


def test_rates_are_learned_taken_and_given_back(hands: Hands, job: Job) -> None:
    hands.open(f"/jobs/{job.pk}/review")
    hands.press("Close the job")
    hands.press("Open the rates from your logs")
    hands.expect("Range: the true hours lie in it four times out of five.")
    hands.expect("The last quotes at these rates")
    look_at(hands, "98-rates-learned")
    hands.press("Use these rates")
    hands.expect("from the next estimate on")
    hands.expect("nothing to take")
    look_at(hands, "99-rates-taken")
    hands.page.get_by_role("button", name="Undo the taking").click()
    hands.expect("as before")
    assert RateTaking.objects.get().undone_at is not None
    hands.open("/reviews")
    hands.expect("Contribution a day on site")
    look_at(hands, "99-reviews")
