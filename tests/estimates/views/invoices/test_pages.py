"""The pages of invoices: issue, pay, take back, mark void; refused at the field, nothing lost."""

from __future__ import annotations

from datetime import timedelta
from decimal import ROUND_DOWN, Decimal
from html import unescape

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from django.utils.html import strip_tags

from estimates.models import Invoice, InvoicePayment
from estimates.readers.invoices.invoices import invoices_due, invoices_of
from jobs.clock import today_of
from jobs.models import Job, User
from tests.estimates.a_job import a_quote
from tests.estimates.services.invoices.test_invoices import deal_of
from tests.reading import words

pytestmark = pytest.mark.django_db


def issue(visitor: Visitor, job: Job, which: int = 0, **changes: str) -> Invoice:
    due = invoices_due(deal_of(job), list(invoices_of(job)))[which]
    sent = {"key": f"k{job.invoices.count()}", "seen": due.mark, "note": ""}
    sent |= {"due_on": today_of(job.company).isoformat()} | changes
    answer = visitor.post(reverse("job-invoices", args=[job.pk]), sent)
    assert answer.status_code == 303
    return job.invoices.latest("number")


def pay(visitor: Visitor, invoice: Invoice, amount: str, key: str = "p") -> int:
    sent = {"key": key, "amount": amount, "way": "check", "note": "No. 1021"}
    sent |= {"received_on": today_of(invoice.job.company).isoformat()}
    return visitor.post(reverse("payment-add", args=[invoice.pk]), sent).status_code


def page_of(visitor: Visitor, name: str, pk: int) -> str:
    """What a page says, without its tags."""
    plain = strip_tags(words(visitor.get(reverse(name, args=[pk]))).replace("><", "> <"))
    return unescape(" ".join(plain.split()))


def test_before_a_quote_is_accepted_there_is_nothing_to_bill(visitor: Visitor, owner: User) -> None:
    job = a_quote(owner).job
    assert "once a quote is accepted" in page_of(visitor, "job-invoices", job.pk)
    assert visitor.post(reverse("job-invoices", args=[job.pk])).status_code == 422


def test_the_next_invoice_and_the_final_one_are_offered(visitor: Visitor, job: Job) -> None:
    page = page_of(visitor, "job-invoices", job.pk)
    total = job.quotes.get().total
    deposit = (total * 3 / 10).quantize(Decimal("0.01"), ROUND_DOWN)
    assert f"Deposit ${deposit:,.2f}" in page
    assert f"Final payment, with deposit ${total:,.2f}" in page
    assert "Not bookkeeping" in page


def test_deposit_final_and_payments_bring_the_balance_to_nothing(
    visitor: Visitor, job: Job
) -> None:
    for key in ("p1", "p2"):
        invoice = issue(visitor, job)
        assert pay(visitor, invoice, f"{invoice.payable}", key) == 303
    page = page_of(visitor, "job-invoices", job.pk)
    assert "Balance $0.00" in page
    assert "The agreed price is invoiced whole." in page
    assert page.count("paid") >= 2


def test_the_invoice_page_says_what_the_paper_says(visitor: Visitor, job: Job) -> None:
    invoice = issue(visitor, job, note="Key under <b>the mat</b>")
    page = page_of(visitor, "invoice", invoice.pk)
    for said in (f"Invoice {invoice.label}", "Total agreed", "Key under <b>the mat</b>"):
        assert said in page
    answer = visitor.get(reverse("invoice-file", args=[invoice.pk]))
    assert answer["Content-Type"] == "application/pdf"


def test_what_is_refused_stays_typed(visitor: Visitor, job: Job) -> None:
    past = (today_of(job.company) - timedelta(days=1)).isoformat()
    sent = {"key": "k", "due_on": past, "note": "By the side door"}
    answer = visitor.post(reverse("job-invoices", args=[job.pk]), sent)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "By the side door" in page
    assert f"{past} has passed" in page
    assert "Nothing was chosen; accepted: one of these." in page


@pytest.mark.parametrize("amount", ["", "0", "-5", "much", "99999999"])
def test_an_amount_that_is_none_is_refused_by_its_field(
    visitor: Visitor, job: Job, amount: str
) -> None:
    invoice = issue(visitor, job)
    assert pay(visitor, invoice, amount) == 422
    assert not InvoicePayment.objects.exists()


def test_a_payment_of_tomorrow_is_refused(visitor: Visitor, job: Job) -> None:
    invoice = issue(visitor, job)
    tomorrow = (today_of(job.company) + timedelta(days=1)).isoformat()
    sent = {"key": "p", "amount": "5", "way": "cash", "received_on": tomorrow, "note": ""}
    answer = visitor.post(reverse("payment-add", args=[invoice.pk]), sent)
    assert f"{tomorrow} has not come yet" in words(answer)


def test_the_same_payment_sent_twice_is_noted_once(visitor: Visitor, job: Job) -> None:
    invoice = issue(visitor, job)
    assert (pay(visitor, invoice, "20"), pay(visitor, invoice, "20")) == (303, 303)
    assert InvoicePayment.objects.count() == 1


def test_a_payment_is_taken_back_by_an_entry_with_a_reason(visitor: Visitor, job: Job) -> None:
    invoice = issue(visitor, job)
    pay(visitor, invoice, f"{invoice.payable}")
    payment = InvoicePayment.objects.get()
    url = reverse("payment-back", args=[payment.pk])
    assert visitor.post(url, {"key": "b", "reason": "Check returned"}).status_code == 303
    assert [row.amount for row in InvoicePayment.objects.all()] == [
        invoice.payable,
        -invoice.payable,
    ]
    page = page_of(visitor, "invoice", invoice.pk)
    assert "Check returned" in page
    assert f"Open ${invoice.payable:,.2f}" in page
    again = visitor.post(url, {"key": "c", "reason": "Again"})
    assert again.status_code == 422
    assert "taken back already" in words(again)


def test_a_void_invoice_says_why_and_takes_no_payment(visitor: Visitor, job: Job) -> None:
    invoice = issue(visitor, job)
    url = reverse("invoice-void", args=[invoice.pk])
    assert visitor.post(url, {"key": "v", "reason": ""}).status_code == 422
    assert visitor.post(url, {"key": "v", "reason": "Wrong payer"}).status_code == 303
    assert "Wrong payer" in page_of(visitor, "invoice", invoice.pk)
    assert pay(visitor, invoice, "5") == 422
    again = issue(visitor, job)
    assert f"Invoice {again.label} stands in its place" in page_of(visitor, "invoice", invoice.pk)


def test_the_list_of_all_jobs_says_what_is_open(visitor: Visitor, job: Job) -> None:
    invoice = issue(visitor, job)
    pay(visitor, invoice, "10.00")
    page = words(visitor.get(reverse("invoice-list")))
    assert f"Invoice {invoice.label}" in page
    assert f"${invoice.payable - 10:,.2f}" in page
    assert "partly paid" in page


def test_the_homeowners_page_says_what_is_agreed_paid_and_left(visitor: Visitor, job: Job) -> None:
    invoice = issue(visitor, job)
    assert pay(visitor, invoice, "100.00") == 303
    (quote,) = job.quotes.all()
    page = unescape(words(Visitor().get(reverse("quote-public", args=[quote.token]))))
    plain = " ".join(strip_tags(page.replace("><", "> <")).split())
    left = quote.total - 100
    assert f"Agreed in all ${quote.total:,.2f} Paid $100.00" in plain
    assert f"Still to be paid ${left:,.2f}" in plain
    assert "Change orders $" not in plain
