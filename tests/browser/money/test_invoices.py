"""Deposit, progress and final invoice with a change order, a payment, and the slip at the site."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from playwright.sync_api import Locator, expect

from estimates.models import CompletionSlip, PriceTerms, SalesTerms
from jobs.models import Job, JobPayer, User
from tests.browser.hands import Hands, look_at
from tests.builders import make_client, make_planned_job
from tests.estimates.a_job import a_quote, accepted, company_of, set_prices
from tests.estimates.invoices_by_hand import a_change_of

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def job(owner: User) -> Job:
    """A planned job, paid in three stages: 30 %, 40 %, the rest."""
    company = company_of(owner)
    set_prices(company)
    company.address, company.phone = "12 Mill Road", "555-0103"
    company.license = "HG-0420"
    company.save()
    SalesTerms.objects.create(
        company=company,
        payment_stages="deposit_progress_rest",
        progress_percent=40,
        payment_ways="Check to Fernwood Floors, or bank transfer.",
        late_fee_percent=Decimal("1.5"),
    )
    return make_planned_job(company)


def figure(hands: Hands, label: str) -> Locator:
    """The figure with this label."""
    label_of = hands.page.get_by_text(label, exact=True)
    return hands.page.locator(".figure").filter(has=label_of)


def pay(hands: Hands, amount: str, note: str) -> None:
    hands.press("Note a payment")
    hands.fill(amount=amount, note=note)
    hands.press("Save the payment")
    hands.expect("The payment is noted.")


def issue(hands: Hands, job: Job, label: str) -> None:
    hands.open(f"/jobs/{job.pk}/invoices")
    hands.page.get_by_label(label).first.check()
    hands.press("Issue the invoice")
    hands.expect("is issued.")


def test_three_invoices_a_change_order_and_payments_to_the_cent(hands: Hands, job: Job) -> None:
    hands.open(f"/jobs/{job.pk}/invoices")
    hands.expect("Invoices belong here once a quote is accepted")
    look_at(hands, "invoices-1-empty")
    owner = User.objects.get(name="Mara Quill")
    accepted(a_quote(owner, job))
    total = job.quotes.get().total
    hands.open(f"/jobs/{job.pk}")
    hands.press("Invoices")
    # Nothing is chosen beforehand; what is typed stays.
    hands.fill(note="Key at the neighbor")
    hands.page.locator("main form").first.evaluate("form => form.noValidate = true")
    hands.press("Issue the invoice")
    hands.expect("Nothing was chosen; accepted: one of these.")
    assert hands.page.locator("[name=note]").input_value() == "Key at the neighbor"
    look_at(hands, "invoices-2-refused")
    issue(hands, job, "Deposit $")
    look_at(hands, "invoices-3-deposit")
    deposit = job.invoices.get(kind="deposit")
    pay(hands, f"{deposit.payable}", "Check 1021")
    expect(figure(hands, "Open")).to_contain_text("$0.00")
    look_at(hands, "invoices-4-paid")

    a_change_of(job, "123.45")
    issue(hands, job, "Progress payment")
    hands.expect("Change order 1")
    progress = job.invoices.get(kind="progress")
    pay(hands, f"{progress.payable}", "Check 1033, returned by the bank")
    hands.page.get_by_role("link", name="Take back").click()
    look_at(hands, "invoices-5-take-back")
    hands.fill(reason="Check returned")
    hands.press("Take back the payment")
    hands.expect("taken back")
    pay(hands, f"{progress.payable}", "Bank transfer")

    issue(hands, job, "Final payment")
    final = job.invoices.get(kind="final")
    assert deposit.amount + progress.amount + final.amount == total + Decimal("123.45")
    pay(hands, f"{final.payable}", "Check 1040")
    hands.open(f"/jobs/{job.pk}/invoices")
    expect(figure(hands, "Balance")).to_contain_text("$0.00")
    hands.expect("The agreed price is invoiced whole.")
    look_at(hands, "invoices-6-all")
    hands.open("/invoices")
    look_at(hands, "invoices-7-list")
    with hands.page.expect_download() as download:
        hands.press("Download invoices and payments (CSV)")
    text = download.value.path().read_text(encoding="utf-8-sig")
    # Three invoices, four payments, one taken back, and the head.
    assert len(text.splitlines()) == 9


def test_an_invoice_is_void_and_another_stands_in_its_place(hands: Hands, job: Job) -> None:
    accepted(a_quote(User.objects.get(name="Mara Quill"), job))
    issue(hands, job, "Deposit $")
    hands.press("Mark the invoice void")
    look_at(hands, "invoices-8-void")
    hands.fill(reason="Sent to the wrong address")
    hands.press("Mark the invoice void")
    hands.expect("is void. What it billed can be billed again.")
    issue(hands, job, "Deposit $")
    hands.expect("which is void")
    hands.press(f"invoice {job.number}-1")
    hands.expect("Sent to the wrong address")
    look_at(hands, "invoices-9-voided")


def test_a_store_pays_by_the_unit_and_its_occupant_signs_without_a_price(
    hands: Hands, job: Job
) -> None:
    store = make_client(job.company, "Alder Store", address="9 Dock Street")
    for code, amount in (("floor_area", 9), ("trips", 45)):
        store.unit_prices.create(code=code, amount=amount, effective_from=date(2020, 1, 1))
    terms = {"order_number": "4711", "payment_days": 30, "retainage_percent": 10}
    JobPayer.objects.create(job=job, payer=store, prices="payer", **terms)
    PriceTerms.objects.create(company=job.company, burdened_rate=50, deposit_percent=0)
    SalesTerms.objects.update(payment_stages="deposit_rest", progress_percent=0)
    accepted(a_quote(User.objects.get(name="Mara Quill"), job))
    issue(hands, job, "Final payment")
    # 20.42 ft2 at 9.00.
    for words in ("Alder Store, order 4711", "$183.78", "Retainage, held back"):
        hands.expect(words)
    look_at(hands, "invoices-10-store")
    final = job.invoices.get()
    assert final.held == (final.amount / 10).quantize(Decimal("0.01"))

    hands.open(f"/jobs/{job.pk}")
    hands.press("Completion slip")
    hands.expect("Alder Store, order 4711")
    look_at(hands, "slip-1")
    said = hands.page.locator("body").inner_text()
    assert [word for word in ("$", "Price", "Prices") if word in said] == []
    hands.fill(open_points="The closet door sticks.", name="Ines Okafor")
    hands.page.locator("[name=done]").check()
    hands.press("Sign the slip")
    hands.expect("Signed by Ines Okafor. Thank you.")
    look_at(hands, "slip-2-signed")
    assert CompletionSlip.objects.get().open_points == "The closet door sticks."
