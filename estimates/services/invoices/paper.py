"""Invoices and completion slips on paper: frozen content in, PDF out."""

from __future__ import annotations

import base64

from django.template.loader import render_to_string

from estimates.domain.invoices.content import IssuedInvoice
from estimates.domain.invoices.slip import CompletionWord
from estimates.domain.quotes.content import Letterhead
from jobs.models import Company, StoredFile
from jobs.pdf import render_pdf
from jobs.services.files import read_file

LONGEST_RUNNING = 48
"""Letters of a company's name that fit into the margin of a page."""


def invoice_pdf(company: Company, content: IssuedInvoice) -> bytes:
    """Return an invoice as a tagged PDF, made from its frozen content alone."""
    context = _context(company, content.letterhead, content.job_number) | {
        "invoice": content,
        "issue": f"Invoice {content.label}",
        "title": f"Invoice {content.label}: {content.title}",
    }
    return render_pdf(html=render_to_string("estimates/invoices/print.html", context))


def slip_pdf(company: Company, content: CompletionWord) -> bytes:
    """Return a completion slip as a tagged PDF; unsigned, it has lines to be signed by hand."""
    context = _context(company, content.letterhead, content.job_number) | {
        "slip": content,
        "issue": "Completion slip",
        "title": f"Completion slip: {content.title}",
        "system": company.units,
    }
    return render_pdf(html=render_to_string("estimates/invoices/slip_print.html", context))


def _context(company: Company, letterhead: Letterhead, job_number: int) -> dict[str, object]:
    return {
        "paper": company.paper,
        "company_name": letterhead.name[:LONGEST_RUNNING],
        "job_number": job_number,
        "page": {"logo": logo_address(company, letterhead)},
    }


def logo_address(company: Company, letterhead: Letterhead) -> str:
    """Return the logo as an address that carries the picture itself; empty where there is none."""
    if not letterhead.logo_sha256:
        return ""
    rows = StoredFile.objects.filter(company=company, sha256=letterhead.logo_sha256)
    stored = rows.first()
    if stored is None:
        return ""
    data = base64.b64encode(read_file(stored)).decode("ascii")
    return f"data:{stored.content_type};base64,{data}"
