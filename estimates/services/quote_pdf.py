"""The quote on paper: frozen content in, PDF out."""

from __future__ import annotations

from django.template.loader import render_to_string

from estimates.domain.quotes.content import IssuedQuote
from estimates.readers.quote_page import quote_page
from jobs.models import Company
from jobs.pdf import render_pdf

_LONGEST_RUNNING = 48


def quote_pdf(company: Company, quote: IssuedQuote) -> bytes:
    """Return an issued quote as a tagged PDF, made from its frozen content and pictures alone."""
    head = quote.letterhead
    running = f"{head.name}, license {head.license}" if head.license else head.name
    context = {
        "quote": quote,
        "page": quote_page(quote, company),
        "paper": company.paper,
        "company_name": head.name,
        "job_number": quote.job_number,
        "issue": f"quote {_beside_job(quote)}",
        "running": _short(running),
    }
    return render_pdf(html=render_to_string("estimates/quotes/paper/quote.html", context))


def _beside_job(quote: IssuedQuote) -> str:
    """Return the number of a quote where that of its job stands before it."""
    plain = f"{quote.job_number}-{quote.number}"
    return str(quote.number) if quote.called == plain else quote.called


def _short(text: str) -> str:
    """Return a text that fits in the margin of a page."""
    return text if len(text) <= _LONGEST_RUNNING else f"{text[: _LONGEST_RUNNING - 1]}…"
