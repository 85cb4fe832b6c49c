"""Payments noted and taken back: keyword-only, atomic, audited. No entry is edited or deleted."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from estimates.models import Invoice, InvoicePayment
from jobs.domain.checks import BadValueError, require_number
from jobs.domain.figures import money
from jobs.models import Job, User
from jobs.services.records import audit_job, writes_once


@writes_once(InvoicePayment, "note payment")
def note_payment(
    *,
    invoice: Invoice,
    user: User,
    key: str,
    received_on: date,
    way: str,
    amount: Decimal,
    note: str,
    today: date,
) -> InvoicePayment:
    """Return the payment that came for an invoice. The same form sent twice notes one.

    Raises:
        BadValueError: nothing or less than nothing came, the day has not come yet, or the invoice
            is void.
    """
    require_number("amount", amount, above=0)
    job = Job.objects.select_for_update().get(pk=invoice.job_id)
    row = job.invoices.get(pk=invoice.pk)
    if row.voided_at is not None:
        accepted = "an invoice that counts"
        raise BadValueError(field="invoice", value=f"{row} is void", accepted=accepted)
    if received_on > today:
        accepted = f"up to {today.isoformat()}, today"
        raise BadValueError(field="received_on", value=received_on.isoformat(), accepted=accepted)
    payment = InvoicePayment.objects.create(
        invoice=row, received_on=received_on, way=way, amount=amount, note=note, noted_by=user
    )
    act = f"Noted a payment of {money(amount, job.company.currency)} for {row}"
    audit_job(job=job, user=user, act=act)
    return payment


@writes_once(InvoicePayment, "take payment back")
def take_back_payment(
    *, payment: InvoicePayment, user: User, key: str, reason: str, today: date
) -> InvoicePayment:
    """Return the entry that takes a payment back, such as a check that was refused.

    Raises:
        BadValueError: it was taken back already, or takes one back itself.
    """
    job = Job.objects.select_for_update().get(pk=payment.invoice.job_id)
    row = InvoicePayment.objects.get(pk=payment.pk)
    if row.takes_back_id is not None or InvoicePayment.objects.filter(takes_back=row).exists():
        accepted = "a payment that stands"
        raise BadValueError(field="payment", value="taken back already", accepted=accepted)
    entry = InvoicePayment.objects.create(
        invoice=row.invoice,
        received_on=today,
        way=row.way,
        amount=-row.amount,
        note=reason,
        takes_back=row,
        noted_by=user,
    )
    act = f"Took back a payment of {money(row.amount, job.company.currency)}: {reason}"
    audit_job(job=job, user=user, act=act)
    return entry
