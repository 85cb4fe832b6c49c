"""Every invoice and every payment of a company, as rows of a sheet and as values."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from django.db.models import QuerySet

from estimates.domain.invoices.account import JobAccount
from estimates.domain.invoices.ledger import LedgerRow
from estimates.models import Invoice, InvoicePayment
from estimates.readers.invoices.invoices import account_at
from jobs.domain.checks import ZERO
from jobs.models import Company


def company_invoices(company: Company) -> QuerySet[Invoice]:
    """Return every invoice of a company, the newest first."""
    rows = Invoice.objects.filter(job__company=company).select_related("job")
    return rows.order_by("-issued_on", "-pk")


def company_payments(company: Company) -> QuerySet[InvoicePayment]:
    """Return every payment of a company, the newest first."""
    rows = InvoicePayment.objects.filter(invoice__job__company=company)
    return rows.select_related("invoice__job").order_by("-received_on", "-pk")


def company_account(company: Company, today: date) -> JobAccount:
    """Return what all invoices and payments of a company come to; what is agreed is not counted."""
    invoices = list(company_invoices(company))
    return account_at(ZERO, invoices, company_payments(company), today)


def ledger_rows(company: Company, today: date) -> list[LedgerRow]:
    """Return every invoice and payment of a company by day."""
    invoices = list(company_invoices(company).reverse())
    payments = list(company_payments(company).reverse())
    account = account_at(ZERO, invoices, payments, today)
    rows = [*_invoice_rows(invoices, account), *_payment_rows(payments)]
    return sorted(rows, key=lambda row: row.day)


def _invoice_rows(invoices: Sequence[Invoice], account: JobAccount) -> Iterator[LedgerRow]:
    for row in invoices:
        yield LedgerRow(
            entry="Invoice",
            day=row.issued_on,
            invoice=row.label,
            job_number=row.job.number,
            title=row.job.title,
            bill_to=row.bill_to,
            order_number=row.order_number,
            what=row.get_kind_display(),
            amount=row.amount,
            held=row.held,
            released=row.released,
            payable=row.payable,
            due_on=row.due_on,
            note=row.void_reason,
            state=account.standings[row.pk].state,
            tax=row.tax,
        )


def _payment_rows(payments: Sequence[InvoicePayment]) -> Iterator[LedgerRow]:
    for row in payments:
        invoice = row.invoice
        yield LedgerRow(
            entry="Payment" if row.takes_back_id is None else "Payment taken back",
            day=row.received_on,
            invoice=invoice.label,
            job_number=invoice.job.number,
            title=invoice.job.title,
            bill_to=invoice.bill_to,
            order_number=invoice.order_number,
            what=invoice.get_kind_display(),
            paid=row.amount,
            way=row.get_way_display(),
            note=row.note,
        )
