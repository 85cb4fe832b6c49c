"""What of invoices waits on the office: those overdue, and deposits that nobody paid yet."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, time
from decimal import Decimal

from django.db.models import DecimalField, F, OuterRef, Q, QuerySet, Subquery, Sum
from django.db.models.functions import Coalesce
from django.urls import reverse

from estimates.domain.invoices.account import InvoiceStanding
from estimates.models import Invoice, InvoiceOf, InvoicePayment
from estimates.readers.invoices.invoices import account_at
from jobs.clock import time_zone_of, today_of
from jobs.domain.checks import ZERO
from jobs.domain.figures import money
from jobs.models import Company
from jobs.readers import today
from jobs.readers.today import Waiting
from jobs.readers.together.keys import KeyList
from jobs.readers.together.round_trip import KindRows, RowKind

MONEY: DecimalField[Decimal, Decimal] = DecimalField(max_digits=12, decimal_places=2)


def _unsettled(companies: KeyList) -> QuerySet[Invoice]:
    """Return the invoices of companies, without those that were paid in full themselves."""
    rows = Invoice.objects.filter(job__company__in=companies, job__archived_at=None)
    paid = InvoicePayment.objects.filter(invoice=OuterRef("pk")).order_by().values("invoice")
    came = Coalesce(
        Subquery(paid.annotate(sum=Sum("amount")).values("sum")), ZERO, output_field=MONEY
    )
    settled = Q(voided_at=None, came__gte=F("amount") - F("held") + F("released"))
    return rows.annotate(came=came).exclude(settled)


INVOICES = RowKind(
    of=lambda companies: Invoice.objects.filter(
        pk__in=_unsettled(companies).order_by().values("pk")
    ).select_related("job__client"),
    by=lambda invoice: (-invoice.due_on.toordinal(), -invoice.pk),
)
PAYMENTS = RowKind(
    of=lambda companies: InvoicePayment.objects.filter(
        invoice__in=_unsettled(companies).order_by().values("pk")
    )
)


def register() -> None:
    """Give the office's first page what waits of invoices."""
    today.register(_unpaid, of_company=[INVOICES, PAYMENTS])


def _unpaid(company: Company, rows: KindRows) -> Iterator[Waiting]:
    """Yield the invoices past their day, and the deposits still open; gone once they are paid."""
    invoices = rows[INVOICES]
    account = account_at(ZERO, invoices, rows[PAYMENTS], today_of(company))
    for invoice in invoices:
        standing = account.standings[invoice.pk]
        if _waits(invoice, standing):
            yield Waiting(
                text=_words(invoice, standing, company),
                url=reverse("invoice", args=[invoice.pk]),
                at=_since(invoice, standing, company),
                kind="invoice",
            )


def _waits(invoice: Invoice, standing: InvoiceStanding) -> bool:
    if standing.state == "overdue":
        return True
    return invoice.kind == InvoiceOf.DEPOSIT and standing.state in ("open", "partly paid")


def _words(invoice: Invoice, standing: InvoiceStanding, company: Company) -> str:
    """Return what is open of an invoice, since when it is due, and whose it is."""
    due = f"{invoice.due_on:%B} {invoice.due_on.day}"
    overdue = standing.state == "overdue"
    what = f"overdue since {due}" if overdue else f"deposit not paid yet, due {due}"
    job = invoice.job
    sum_open = money(standing.open, company.currency)
    return f"{invoice}, {what}: {sum_open} open, job {job.number}, {invoice.bill_to}"


def _since(invoice: Invoice, standing: InvoiceStanding, company: Company) -> datetime:
    """Return since when an invoice waits: its last day, else the moment of issue."""
    if standing.state != "overdue":
        return invoice.issued_at
    return datetime.combine(invoice.due_on, time(), tzinfo=time_zone_of(company))
