"""Payments of invoices, for the office: noted, and taken back by an entry of their own."""

from __future__ import annotations

from django.http import HttpResponse
from django.urls import reverse

from estimates.access import invoice_for, payment_for
from estimates.forms.invoices.invoices import ReasonForm
from estimates.forms.invoices.payments import PaymentForm
from estimates.models import Invoice
from estimates.readers.invoices.invoices import account_at, payments_of
from estimates.services.invoices import payments as services
from jobs.access import SignedInRequest, signed_in
from jobs.clock import today_of
from jobs.domain.checks import ZERO
from jobs.domain.figures import money
from jobs.forms.base import sent
from jobs.readers.path import path_context
from jobs.views.edit_page import edit_page, edits

PAYMENT_FIELDS = ("received_on", "way", "amount", "note")


@edits
@signed_in
def payment_add(request: SignedInRequest, pk: int) -> HttpResponse:
    """Note money that came for an invoice."""
    row = invoice_for(request, pk)
    today = today_of(row.job.company)
    initial = {"received_on": today.isoformat(), "amount": _open(row)}
    form = PaymentForm(sent(request), initial=initial, today=today)
    back = reverse("invoice", args=[pk])
    return edit_page(
        request,
        form=form,
        write=lambda: services.note_payment(
            invoice=row,
            user=request.user,
            key=form.once_key,
            today=today,
            **{name: form.cleaned_data[name] for name in PAYMENT_FIELDS},
        ),
        done="The payment is noted.",
        to=lambda _: back,
        context=path_context(request, row.job, "Quote")
        | {"title": f"Payment of invoice {row.label}", "back": back, "invoice": row},
        template="estimates/invoices/payment.html",
    )


def _open(row: Invoice) -> str:
    """Return what is open of an invoice, as it would be typed; empty where nothing is."""
    job = row.job
    account = account_at(ZERO, list(job.invoices.all()), payments_of(job), today_of(job.company))
    left = account.standings[row.pk].open
    return f"{left:.2f}" if left > 0 else ""


@edits
@signed_in
def payment_back(request: SignedInRequest, pk: int) -> HttpResponse:
    """Take a payment back by an entry with its reason; both stay in the book."""
    row = payment_for(request, pk)
    job = row.invoice.job
    form = ReasonForm(sent(request))
    back = reverse("invoice", args=[row.invoice_id])
    amount = money(row.amount, job.company.currency)
    return edit_page(
        request,
        form=form,
        write=lambda: services.take_back_payment(
            payment=row,
            user=request.user,
            key=form.once_key,
            reason=form.cleaned_data["reason"],
            today=today_of(job.company),
        ),
        done=f"The payment of {amount} is taken back.",
        to=lambda _: back,
        context=path_context(request, job, "Quote")
        | {
            "title": f"Take back the payment of {amount}",
            "sentence": "The payment stays in the book; an entry of as much with your reason "
            "stands against it, such as for a check that was returned.",
            "button": "Take back the payment",
            "back": back,
        },
        template="estimates/invoices/reason.html",
    )
