"""Invoices and payments of a job as values: what is billed, what comes next, how it stands."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from decimal import Decimal

from django.db.models import QuerySet

from estimates.domain.invoices.account import (
    InvoiceEntry,
    JobAccount,
    PaymentEntry,
    account_of,
)
from estimates.domain.invoices.content import (
    INVOICE,
    BillTo,
    IssuedInvoice,
    invoice_from,
)
from estimates.domain.invoices.stages import BilledStage, InvoiceDue, next_invoices
from estimates.domain.priced import Priced
from estimates.models import Invoice, InvoicePayment, SalesTerms
from estimates.readers.invoices.agreed import AgreedDeal
from estimates.readers.setup.sales import letterhead_of, number_of_quote, sales_terms
from jobs.domain.figures import percent
from jobs.models import Client, Document, Job
from jobs.readers.documents import opened
from jobs.readers.payers.payer import payer_row


def stored_invoice(invoice: Invoice) -> IssuedInvoice:
    """Return what an invoice says. Raises BrokenDocumentError where it can't be read."""
    return invoice_of(invoice.document)


def invoice_of(document: Document) -> IssuedInvoice:
    """Return what an invoice's document says; raises as `stored_invoice`."""
    return opened(document, INVOICE, invoice_from)


def invoices_of(job: Job) -> QuerySet[Invoice]:
    """Return every invoice of a job in its turn, void ones too."""
    return job.invoices.select_related("document", "job__company")


def payments_of(job: Job) -> QuerySet[InvoicePayment]:
    """Return every payment of a job, and every entry that takes one back, by day."""
    rows = InvoicePayment.objects.filter(invoice__job=job)
    return rows.select_related("invoice", "taken_back_by", "takes_back")


def invoices_due(deal: AgreedDeal, invoices: Iterable[Invoice]) -> tuple[InvoiceDue, ...]:
    """Return the invoices that can be issued now, the next one first."""
    return next_invoices(deal.price, billed_stages(invoices))


def billed_stages(invoices: Iterable[Invoice]) -> list[BilledStage]:
    """Return what the invoices in force billed."""
    return [stored_invoice(row).stage for row in invoices if row.voided_at is None]


def account_at(
    agreed: Decimal,
    invoices: Sequence[Invoice],
    payments: Iterable[InvoicePayment],
    today: date,
) -> JobAccount:
    """Return the account of a job on a day."""
    entries = [
        InvoiceEntry(
            key=row.pk,
            amount=row.amount,
            held=row.held,
            released=row.released,
            due_on=row.due_on,
            is_void=row.voided_at is not None,
            replaces=row.replaces_id,
        )
        for row in invoices
    ]
    money = [PaymentEntry(invoice=row.invoice_id, amount=row.amount) for row in payments]
    return account_of(agreed, entries, money, today=today)


def last_day(deal: AgreedDeal, today: date) -> date:
    """Return the day by which an invoice of today is to be paid: today, or as the payer agreed."""
    payer = deal.priced.payer
    return today + timedelta(days=payer.payment_days or 0) if payer else today


def void_before(due: InvoiceDue, invoices: Sequence[Invoice]) -> Invoice | None:
    """Return the void invoice of the same stage in whose place this one comes; None where none."""
    replaced = {row.replaces_id for row in invoices}
    for row in reversed(invoices):
        if row.voided_at is None or row.kind != due.kind or row.pk in replaced:
            continue
        if stored_invoice(row).key == due.key:
            return row
    return None


def content_due(
    deal: AgreedDeal,
    due: InvoiceDue,
    *,
    number: int,
    today: date,
    due_on: date,
    note: str,
    replaces: Invoice | None,
    account: JobAccount,
    tax: Decimal,
) -> IssuedInvoice:
    """Return what stands on an invoice that is issued today."""
    job = deal.quote.job
    terms = sales_terms(job.company)
    payer = deal.priced.payer
    return IssuedInvoice(
        label=number_of_quote(job.company, job_number=job.number, number=number, issued_on=today),
        number=number,
        job_number=job.number,
        title=job.title,
        kind=due.kind,
        key=due.key,
        name=due.name,
        when=due.when,
        currency=deal.priced.currency,
        issued_on=today,
        due_on=due_on,
        replaces=replaces.label if replaces else "",
        letterhead=letterhead_of(job.company),
        bill_to=_bill_to(job, deal.priced),
        order_number=payer.order_number if payer else "",
        site=job.address,
        client=job.client.name if payer else "",
        estimate_sha256=deal.estimate.document.sha256,
        agreed=deal.sum,
        lines=due.lines,
        changes=due.changes,
        held=due.held,
        released=due.released,
        held_in_all=account.held + due.held - due.released,
        billed_before=account.billed,
        paid_before=account.paid,
        payment_words="\n".join(
            text for text in (payer.terms if payer else "", terms.payment_ways) if text
        ),
        late_fee_words=late_fee_words(terms),
        note=note,
        tax=tax,
    )


def late_fee_words(terms: SalesTerms) -> str:
    """Return what is said of paying late, as the quote says it; empty where no fee is charged."""
    if not terms.late_fee_percent:
        return terms.late_fee_words
    rate = percent(terms.late_fee_percent / 100, 2)
    return f"{rate} a month on what is overdue. {terms.late_fee_words}".strip()


def _bill_to(job: Job, priced: Priced) -> BillTo:
    """Return who pays: the payer of the accepted estimate, else the client."""
    if priced.payer is None:
        return _party(job.client)
    payer = payer_row(job).payer
    if payer is not None and payer.name == priced.payer.name:
        return _party(payer)
    return BillTo(name=priced.payer.name, lines=())


def _party(client: Client) -> BillTo:
    lines = [*client.address.splitlines(), client.phone, client.email]
    return BillTo(name=client.name, lines=tuple(line for line in lines if line))
