"""Invoices of an accepted quote with a change order: frozen, voided and replaced, never lost.

The sums are held against the rows of quote and change orders; by hand in
`tests/estimates/domain/invoices/test_stages.py`.
"""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from io import BytesIO

import page as page_validation
import pytest
from pypdf import PdfReader

from estimates.models import Invoice, SalesTerms
from estimates.readers.invoices.agreed import AgreedDeal, agreed_deal
from estimates.readers.invoices.invoices import (
    account_at,
    invoices_due,
    invoices_of,
    payments_of,
    stored_invoice,
)
from estimates.services.invoices.invoices import issue_invoice, void_invoice
from estimates.services.invoices.paper import invoice_pdf
from jobs.domain.checks import BadValueError
from jobs.models import AuditLine, Client, Job, JobPayer, User
from jobs.services.files import read_file
from tests.builders import make_client, make_planned_job
from tests.estimates.a_job import TODAY, a_quote, accepted, an_agreed_job, an_owner, company_of
from tests.estimates.a_price import Given
from tests.estimates.invoices_by_hand import a_change_of

pytestmark = pytest.mark.django_db


def deal_of(job: Job) -> AgreedDeal:
    deal = agreed_deal(job)
    assert deal is not None
    return deal


def issue(job: Job, owner: User, which: int = 0, **changes: object) -> Invoice:
    due = invoices_due(deal_of(job), list(invoices_of(job)))[which]
    fields: Given = {"seen": due.mark, "due_on": TODAY, "note": "", "today": TODAY}
    fields |= {"key": f"invoice-{job.invoices.count()}"}
    return issue_invoice(job=job, user=owner, **fields | changes)


def text_of(invoice: Invoice) -> str:
    pages = PdfReader(BytesIO(read_file(invoice.pdf))).pages
    return " ".join(page.extract_text() for page in pages)


def test_deposit_and_final_come_to_the_accepted_quote(job: Job, owner: User) -> None:
    invoices = [issue(job, owner), issue(job, owner)]
    assert [invoice.kind for invoice in invoices] == ["deposit", "final"]
    total = job.quotes.get().total
    # 30 % of 586.29 is 175.887; a deposit is rounded down, so that it never passes a cap.
    assert (total, invoices[0].amount) == (Decimal("586.29"), Decimal("175.88"))
    assert sum(invoice.payable for invoice in invoices) == total
    assert invoices_due(deal_of(job), list(invoices_of(job))) == ()


@pytest.mark.usefixtures("set_paper")
def test_three_stages_with_a_change_order_come_to_the_cent(owner: User) -> None:
    # 586.29: deposit 175.88 (30 % rounded down), progress 40 % is 234.516, so 234.52, final 175.89.
    # A change order of 123.45 before the progress invoice: 357.97. In all 709.74.
    SalesTerms.objects.create(
        company=company_of(owner),
        payment_stages="deposit_progress_rest",
        progress_percent=40,
        payment_ways="Check to Fernwood Floors.",
        late_fee_percent=Decimal("1.5"),
    )
    job = an_agreed_job(owner)
    deposit = issue(job, owner)
    a_change_of(job, "123.45")
    invoices = [deposit, issue(job, owner), issue(job, owner)]
    figures = [(invoice.kind, f"{invoice.amount}") for invoice in invoices]
    assert figures == [("deposit", "175.88"), ("progress", "357.97"), ("final", "175.89")]
    assert sum(invoice.amount for invoice in invoices) == Decimal("709.74")
    text = text_of(invoices[2])
    assert "1.5% a month on what is overdue." in text
    assert "Check to Fernwood Floors." in text


def test_a_change_order_is_on_the_final_invoice_to_the_cent(job: Job, owner: User) -> None:
    deposit = issue(job, owner)
    order = a_change_of(job, "213.37")
    final = issue(job, owner)
    assert deposit.amount + final.amount == job.quotes.get().total + Decimal("213.37")
    said = stored_invoice(final)
    assert [line.label for line in said.lines][1] == f"Change order {order.number}"
    assert said.agreed.total == job.quotes.get().total + Decimal("213.37")


@pytest.mark.usefixtures("set_paper")
def test_the_paper_says_who_pays_what_and_by_when(job: Job, owner: User) -> None:
    invoice = issue(job, owner, due_on=TODAY + timedelta(days=14))
    text = text_of(invoice)
    for words in ("Fernwood Floors", "Ines Okafor", "4 Cooper Lane", "March 15, 2027"):
        assert words in text
    assert f"Invoice {job.number}-1" in text
    assert f"To be paid ${invoice.payable:,.2f}" in text


@pytest.mark.usefixtures("set_paper")
@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_the_paper_passes_the_pdf_ua_check(paper: str) -> None:
    owner = an_owner(paper=paper)
    pdf = read_file(issue(an_agreed_job(owner), owner).pdf)
    assert page_validation.validate_pdf_bytes(pdf, profile="ua1").is_compliant


@pytest.mark.usefixtures("set_paper")
def test_the_paper_is_made_of_the_frozen_content_alone(job: Job, owner: User) -> None:
    invoice = issue(job, owner)
    Client.objects.update(name="Another Name")
    again = invoice_pdf(job.company, stored_invoice(Invoice.objects.get(pk=invoice.pk)))
    text = " ".join(page.extract_text() for page in PdfReader(BytesIO(again)).pages)
    assert "Ines Okafor" in text
    assert "Another Name" not in text


@pytest.mark.usefixtures("set_paper")
def test_a_note_with_html_is_printed_as_it_was_typed(job: Job, owner: User) -> None:
    note = '<img src="http://example.com/a.png"><script>alert(1)</script>'
    text = text_of(issue(job, owner, note=note))
    assert "<script>alert(1)</script>" in text


def test_the_same_form_sent_twice_issues_one(job: Job, owner: User) -> None:
    due = invoices_due(deal_of(job), [])[0]
    first = issue(job, owner, key="k", seen=due.mark)
    assert issue(job, owner, key="k", seen=due.mark).pk == first.pk
    assert job.invoices.count() == 1


def test_what_two_owners_issue_at_once_is_issued_once(job: Job, owner: User) -> None:
    due = invoices_due(deal_of(job), [])[0]
    issue(job, owner, seen=due.mark)
    with pytest.raises(BadValueError, match="another one meanwhile"):
        issue(job, owner, key="other", seen=due.mark)


def test_a_change_order_agreed_meanwhile_is_another_invoice(job: Job, owner: User) -> None:
    issue(job, owner)
    seen = invoices_due(deal_of(job), list(invoices_of(job)))[0].mark
    a_change_of(job, "213.37")
    with pytest.raises(BadValueError, match="another one meanwhile"):
        issue(job, owner, seen=seen)


def test_a_last_day_before_today_is_refused(job: Job, owner: User) -> None:
    with pytest.raises(BadValueError, match=r"due_on is '2027-02-28'; accepted: 2027-03-01"):
        issue(job, owner, due_on=date(2027, 2, 28))


def test_without_an_accepted_quote_nothing_is_issued(owner: User, job: Job) -> None:
    job.quotes.get().acceptance.delete()
    with pytest.raises(BadValueError, match="no accepted quote"):
        issue_invoice(job=job, user=owner, key="k", seen="", due_on=TODAY, note="", today=TODAY)


def test_a_void_invoice_stays_and_another_stands_in_its_place(job: Job, owner: User) -> None:
    deposit = issue(job, owner)
    void_invoice(invoice=deposit, user=owner, key="v", reason="Wrong day")
    again = issue(job, owner)
    assert (again.number, again.kind, again.replaces_id) == (2, "deposit", deposit.pk)
    assert stored_invoice(again).replaces == deposit.label
    assert Invoice.objects.get(pk=deposit.pk).void_reason == "Wrong day"
    assert AuditLine.objects.filter(act__contains="void: Wrong day").exists()


def test_an_invoice_is_marked_void_once(job: Job, owner: User) -> None:
    deposit = issue(job, owner)
    void_invoice(invoice=deposit, user=owner, key="v", reason="Wrong day")
    with pytest.raises(BadValueError, match="void already"):
        void_invoice(invoice=deposit, user=owner, key="w", reason="Again")


def test_a_store_pays_all_at_once_less_what_it_holds_back(owner: User) -> None:
    job = a_stores_job(owner)
    final, release = issue(job, owner, which=1), issue(job, owner)
    assert (final.kind, release.kind) == ("final", "retainage")
    held = (final.amount / 10).quantize(Decimal("0.01"))
    assert (final.held, release.released) == (held, held)
    assert final.payable + release.payable == job.quotes.get().total
    said = stored_invoice(final)
    assert (said.bill_to.name, said.order_number, said.client) == (
        "Alder Store",
        "4711",
        "Ines Okafor",
    )
    assert said.payment_words.startswith("Invoice by the tenth.")


def test_a_store_by_the_unit_reads_its_units(owner: User) -> None:
    said = stored_invoice(issue(a_stores_job(owner), owner, which=1))
    assert sum(unit.amount for unit in said.agreed.units) == said.agreed.amount
    laying = said.agreed.units[0]
    # 60 by 49 in are 2,940 in2, which is 20.42 ft2; at 9.00 that is 183.78.
    sums = [laying.quantity, laying.each, laying.amount]
    assert sums == [Decimal("20.42"), Decimal(9), Decimal("183.78")]


def a_stores_job(owner: User) -> Job:
    """An agreed job that a store pays by its unit prices, 10 % held back, in 30 days."""
    job = make_planned_job(company_of(owner))
    store = make_client(job.company, "Alder Store")
    for code, amount in (("floor_area", 9), ("trips", 45)):
        store.unit_prices.create(code=code, amount=amount, effective_from=date(2020, 1, 1))
    JobPayer.objects.create(
        job=job,
        payer=store,
        order_number="4711",
        terms="Invoice by the tenth.",
        payment_days=30,
        retainage_percent=10,
        prices="payer",
    )
    accepted(a_quote(owner, job))
    return Job.objects.get(pk=job.pk)


def test_what_stands_open_is_told_from_invoices_and_payments(job: Job, owner: User) -> None:
    issue(job, owner)
    deal = deal_of(job)
    account = account_at(deal.price.total, list(invoices_of(job)), payments_of(job), TODAY)
    assert (account.balance, account.open) == (deal.price.total, account.billed)
