"""The quote on paper: frozen content in, PDF out."""

from __future__ import annotations

from collections.abc import Iterator

from django.template.loader import render_to_string

from estimates.domain.quotes.content import IssuedQuote
from estimates.readers.quote_page import QuotePage, quote_page
from jobs.models import Company
from jobs.pdf import render_fitting

_LONGEST_RUNNING = 48
_LAST = "last-of-quote"
"""The id of what the quote itself ends with; terms and forms follow it."""


def quote_pdf(company: Company, quote: IssuedQuote) -> bytes:
    """Return an issued quote as a tagged PDF, made from its frozen content and pictures alone."""
    page = quote_page(quote, company)
    return render_fitting(_layouts(company, page), last=_LAST)


def _layouts(company: Company, page: QuotePage) -> Iterator[tuple[str, int | None]]:
    """Yield the quote laid out in the ways that suit it, each with the sheets it is meant for."""
    for layout, sheets in page.layouts:
        yield paper_html(company, page, layout), sheets


def paper_html(company: Company, page: QuotePage, layout: str) -> str:
    """Return what is printed, before it is set."""
    quote, head = page.quote, page.quote.letterhead
    running = f"{head.name}, license {head.license}" if head.license else head.name
    context = {
        "quote": quote,
        "page": page,
        "layout": layout,
        "compact": bool(layout),
        "one_sheet": layout.startswith("dense"),
        "paper": company.paper,
        "company_name": head.name,
        "issue": f"Quote {quote.called}",
        "running": _short(running),
    }
    return render_to_string("estimates/quotes/paper/quote.html", context)


def _short(text: str) -> str:
    """Return a text that fits in the margin of a page."""
    return text if len(text) <= _LONGEST_RUNNING else f"{text[: _LONGEST_RUNNING - 1]}…"
