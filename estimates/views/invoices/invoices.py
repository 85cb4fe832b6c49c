"""Invoices of a job, for the office: what is due next, what was issued, how it stands."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from django.contrib import messages
from django.http import HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from estimates.access import invoice_for, priced_job_for
from estimates.domain.invoices.account import JobAccount
from estimates.forms.invoices.invoices import IssueInvoiceForm, ReasonForm
from estimates.forms.sending.sending import MailForm
from estimates.models import Invoice, InvoicePayment
from estimates.readers.invoices.agreed import AgreedDeal, agreed_deal
from estimates.readers.invoices.invoices import (
    account_at,
    invoices_due,
    invoices_of,
    last_day,
    payments_of,
    stored_invoice,
)
from estimates.readers.sending.addressee import addressee_of
from estimates.readers.sending.mails import posted_mails
from estimates.services.invoices import invoices as services
from estimates.services.invoices.mails import about_invoice, mail_invoice
from estimates.services.passport.links import open_passport_of
from jobs.access import SignedInRequest, signed_in
from jobs.clock import today_of
from jobs.forms.base import sent
from jobs.http import go_to, render_page
from jobs.models import Job
from jobs.readers.path import path_context
from jobs.services.files import serve
from jobs.services.mail.outbox import mail_is_set
from jobs.views.edit_page import edit_page, edits
from jobs.worker.errands import worker_is_running

TEMPLATE = "estimates/invoices/job_invoices.html"


@edits
@signed_in
def job_invoices(request: SignedInRequest, pk: int) -> HttpResponse:
    """Every invoice and payment of a job, its balance, and the invoice that comes next."""
    job = priced_job_for(request, pk)
    deal = agreed_deal(job)
    if deal is None:
        status = 422 if request.method == "POST" else 200
        return render_page(request, TEMPLATE, path_context(request, job, "Quote"), status=status)
    today = today_of(job.company)
    invoices = list(invoices_of(job))
    form = _issue_form(request, deal, invoices, today)
    if request.method == "POST" and form.is_valid():
        issued = form.carry_out(
            lambda: services.issue_invoice(
                job=job,
                user=request.user,
                key=form.once_key,
                today=today,
                **{name: form.cleaned_data[name] for name in ("seen", "due_on", "note")},
            )
        )
        if issued is not None:
            messages.success(request, f"Invoice {issued.label} is issued.")
            return go_to(request, "invoice", issued.pk)
    context = path_context(request, job, "Quote") | _account_context(job, deal, invoices, today)
    return render_page(request, TEMPLATE, context | {"form": form}, status=form.status)


def _issue_form(
    request: SignedInRequest, deal: AgreedDeal, invoices: Sequence[Invoice], today: date
) -> IssueInvoiceForm:
    return IssueInvoiceForm(
        sent(request),
        dues=invoices_due(deal, invoices),
        currency=deal.priced.currency,
        today=today,
        initial={"due_on": last_day(deal, today).isoformat()},
    )


def _account_context(
    job: Job, deal: AgreedDeal, invoices: Sequence[Invoice], today: date
) -> dict[str, object]:
    payments = list(payments_of(job))
    account = account_at(deal.price.total, invoices, payments, today)
    return {
        "deal": deal,
        "account": account,
        "rows": [(row, account.standings[row.pk]) for row in invoices],
        "payments": payments,
        "currency": job.company.currency,
    }


@require_safe
@signed_in
def invoice(request: SignedInRequest, pk: int) -> HttpResponse:
    """One invoice as issued, what was paid on it, and what is open."""
    return _invoice_page(request, invoice_for(request, pk))


@require_POST
@signed_in
def invoice_mail(request: SignedInRequest, pk: int) -> HttpResponse:
    """Mail the invoice, its PDF with it."""
    row = invoice_for(request, pk)
    form = MailForm(request.POST)
    if form.is_valid():
        mailed = form.carry_out(
            lambda: mail_invoice(
                invoice=row, user=request.user, key=form.once_key, to=form.cleaned_data["to"]
            )
        )
        if mailed is not None:
            messages.success(request, "The mail is on its way.")
            return go_to(request, "invoice", pk)
    return _invoice_page(request, row, form)


def _invoice_page(
    request: SignedInRequest, row: Invoice, form: MailForm | None = None
) -> HttpResponse:
    said, to = stored_invoice(row), addressee_of(row.job)
    payments = list(payments_of(row.job))
    account = _account_of(row, payments)
    context = path_context(request, row.job, "Quote") | {
        "invoice": row,
        "content": said,
        "standing": account.standings[row.pk],
        "replaced_by": getattr(row, "replaced_by", None),
        "payments": [payment for payment in payments if payment.invoice_id == row.pk],
        "currency": said.currency,
        "to": to,
        "shown": posted_mails(row.job.company, about_invoice(row)),
        "mail_is_set": mail_is_set(),
        "worker": worker_is_running(),
        "passport": open_passport_of(row.job),
        "mail_form": form or MailForm(initial={"to": to.email}),
    }
    status = form.status if form else 200
    return render_page(request, "estimates/invoices/invoice.html", context, status=status)


def _account_of(row: Invoice, payments: Sequence[InvoicePayment]) -> JobAccount:
    """Return the account of the job of an invoice, by the price that the invoice says."""
    today = today_of(row.job.company)
    invoices = list(row.job.invoices.all())
    return account_at(stored_invoice(row).agreed.total, invoices, payments, today)


@require_safe
@signed_in
def invoice_file(request: SignedInRequest, pk: int) -> HttpResponse:
    """The PDF exactly as issued."""
    return serve(invoice_for(request, pk).pdf)  # type: ignore[return-value]


@edits
@signed_in
def invoice_void(request: SignedInRequest, pk: int) -> HttpResponse:
    """Mark an invoice void, with why; it stays in the book."""
    row = invoice_for(request, pk)
    form = ReasonForm(sent(request))
    back = reverse("invoice", args=[pk])
    return edit_page(
        request,
        form=form,
        write=lambda: services.void_invoice(
            invoice=row, user=request.user, key=form.once_key, reason=form.cleaned_data["reason"]
        ),
        done=f"Invoice {row.label} is void. What it billed can be billed again.",
        to=lambda _: reverse("job-invoices", args=[row.job_id]),
        context=path_context(request, row.job, "Quote")
        | {
            "title": f"Mark invoice {row.label} void",
            "sentence": "It stays in the book with your reason and its number is not used again. "
            "What was paid on it counts on the invoice that comes in its place.",
            "button": "Mark the invoice void",
            "back": back,
        },
        template="estimates/invoices/reason.html",
    )
