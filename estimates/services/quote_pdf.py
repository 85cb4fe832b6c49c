"""The quote on paper: frozen content in, PDF out."""

from __future__ import annotations

from django.template.loader import render_to_string

from estimates.domain.quotes.content import IssuedQuote
from jobs.models import Company
from jobs.pdf import render_pdf


def quote_pdf(company: Company, content: IssuedQuote) -> bytes:
    """Return the quote as a tagged PDF, made from its frozen content alone."""
    context = {
        "quote": content,
        "paper": company.paper,
        "company_name": content.letterhead.name,
        "job_number": content.job_number,
        "issue": f"Quote {content.number}",
        "title": f"Quote {content.number}: {content.title}",
        "system": company.units,
    }
    return render_pdf(html=render_to_string("estimates/quotes/print.html", context))
