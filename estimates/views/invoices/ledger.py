"""Invoices of the whole company: a list, and a sheet to hand to whoever keeps the books."""

from __future__ import annotations

from django.http import HttpResponse
from django.utils.http import content_disposition_header
from django.views.decorators.http import require_safe

from estimates.domain.invoices.ledger import write_ledger
from estimates.readers.invoices.ledger import company_account, company_invoices, ledger_rows
from jobs.access import SignedInRequest, company_of, office
from jobs.clock import today_of
from jobs.http import render_page
from jobs.views.list_page import page_of


@require_safe
@office
def invoice_list(request: SignedInRequest) -> HttpResponse:
    """Every invoice of the company, newest first, and what is open of all."""
    company = company_of(request)
    page = page_of(request, company_invoices(company))
    account = company_account(company, today_of(company))
    context = {
        "page_obj": page,
        "rows": [(row, account.standings[row.pk]) for row in page],
        "account": account,
        "currency": company.currency,
    }
    return render_page(request, "estimates/invoices/invoices.html", context)


@require_safe
@office
def invoices_export(request: SignedInRequest) -> HttpResponse:
    """Every invoice and payment of the company as a CSV file."""
    company = company_of(request)
    today = today_of(company)
    text = write_ledger(ledger_rows(company, today))
    # With the mark, spreadsheet programs read it as UTF-8.
    response = HttpResponse(text.encode("utf-8-sig"), content_type="text/csv; charset=utf-8")
    name = f"invoices-and-payments-{today.isoformat()}.csv"
    response["Content-Disposition"] = content_disposition_header(True, name)
    response["X-Content-Type-Options"] = "nosniff"
    return response
