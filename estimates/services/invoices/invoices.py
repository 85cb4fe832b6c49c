"""Invoices issued and marked void: keyword-only, atomic, audited. Nothing is edited or deleted."""

from __future__ import annotations

from datetime import date

from django.utils import timezone

from estimates.domain.invoices.content import IssuedInvoice, invoice_document
from estimates.domain.invoices.stages import InvoiceDue
from estimates.domain.invoices.tax import tax_in
from estimates.models import Invoice
from estimates.readers.invoices.agreed import agreed_deal
from estimates.readers.invoices.invoices import (
    account_at,
    billed_stages,
    content_due,
    invoice_of,
    invoices_due,
    invoices_of,
    payments_of,
    void_before,
)
from estimates.services.invoices.paper import invoice_pdf
from jobs.domain.checks import BadValueError
from jobs.domain.figures import money
from jobs.models import Job, User
from jobs.services.files import store_file
from jobs.services.records import audit_job, freeze, next_number, writes_once


@writes_once(Invoice, "issue invoice")
def issue_invoice(
    *, job: Job, user: User, key: str, seen: str, due_on: date, note: str, today: date
) -> Invoice:
    """Return the invoice that was ``seen``, frozen with its PDF. ``seen``: its mark.

    Raises:
        BadValueError: no quote is accepted, another invoice is due by now, or ``due_on`` lies
            before today.
    """
    locked = Job.objects.select_for_update().select_related("company", "client").get(pk=job.pk)
    deal = agreed_deal(locked)
    if deal is None:
        accepted = "a job whose quote is accepted"
        raise BadValueError(field="job", value="no accepted quote", accepted=accepted)
    if due_on < today:
        accepted = f"{today.isoformat()} or later"
        raise BadValueError(field="due_on", value=due_on.isoformat(), accepted=accepted)
    invoices = list(invoices_of(locked))
    due = _seen(invoices_due(deal, invoices), seen)
    replaces = void_before(due, invoices)
    content = content_due(
        deal,
        due,
        number=next_number(locked.invoices.all()),
        today=today,
        due_on=due_on,
        note=note,
        replaces=replaces,
        account=account_at(deal.price.total, invoices, payments_of(locked), today),
        tax=tax_in(deal.price, billed_stages(invoices), due),
    )
    return _frozen(locked, content, replaces, user)


def _seen(offered: tuple[InvoiceDue, ...], seen: str) -> InvoiceDue:
    """Return the invoice that was seen. Raises BadValueError where it is another one by now."""
    for due in offered:
        if due.mark == seen:
            return due
    accepted = "the invoice as it is due now; read it and send it again"
    raise BadValueError(field="invoice", value="another one meanwhile", accepted=accepted)


def _frozen(job: Job, content: IssuedInvoice, replaces: Invoice | None, user: User) -> Invoice:
    """Freeze the content, print it, and store both."""
    document = freeze(
        company=job.company, kind="invoice", content=invoice_document(content), user=user
    )
    pdf = store_file(
        company=job.company,
        content=invoice_pdf(job.company, invoice_of(document)),
        name=f"invoice-{content.label}.pdf",
        content_type="application/pdf",
    )
    invoice = Invoice.objects.create(
        job=job,
        number=content.number,
        label=content.label,
        kind=content.kind,
        document=document,
        pdf=pdf,
        bill_to=content.bill_to.name,
        order_number=content.order_number,
        amount=content.amount,
        held=content.held,
        released=content.released,
        tax=content.tax,
        issued_on=content.issued_on,
        due_on=content.due_on,
        issued_by=user,
        replaces=replaces,
    )
    act = f"Issued {invoice}, {money(content.payable, content.currency)}"
    audit_job(job=job, user=user, act=act)
    return invoice


@writes_once(Invoice, "void invoice")
def void_invoice(*, invoice: Invoice, user: User, key: str, reason: str) -> Invoice:
    """Return the invoice marked void, with why; what it billed can be billed again.

    Raises:
        BadValueError: it is void already.
    """
    job = Job.objects.select_for_update().get(pk=invoice.job_id)
    row = job.invoices.get(pk=invoice.pk)
    if row.voided_at is not None:
        accepted = "an invoice that counts"
        raise BadValueError(field="invoice", value="void already", accepted=accepted)
    row.voided_at, row.void_reason = timezone.now(), reason
    row.save(update_fields=["voided_at", "void_reason"])
    audit_job(job=job, user=user, act=f"Marked {row} void: {reason}")
    return row
