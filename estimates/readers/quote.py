"""Issued quotes and the word on them, read from their rows."""

from __future__ import annotations

from datetime import date

from estimates.domain.quote import QUOTE, quote_from
from estimates.domain.quotes.content import IssuedQuote
from estimates.models import Acceptance, Estimate, Quote
from jobs.clock import day_of
from jobs.domain.formats import BrokenDocumentError
from jobs.models import Document, Job
from jobs.readers.documents import opened


def acceptance_of(job: Job) -> Acceptance | None:
    """Return the word on the accepted quote of a job, with the estimate it was given on."""
    return Acceptance.objects.filter(quote__job=job).select_related("quote__estimate").first()


def agreed_estimate(acceptance: Acceptance) -> Estimate:
    """Return the estimate of the way that was accepted: of the choice, else of the quote."""
    option = acceptance.quote.options.filter(key=acceptance.choice).select_related("estimate")
    chosen = option.first() if acceptance.choice else None
    return chosen.estimate if chosen else acceptance.quote.estimate


def stored_quote(quote: Quote) -> IssuedQuote:
    """Return the frozen content of an issued quote. Raises BrokenDocumentError where unreadable."""
    return quote_of(quote.document)


def issue_day(quote: Quote) -> date:
    """Return the day that a quote names as its day of issue; where it can't be read, the row's."""
    try:
        return stored_quote(quote).issued_on
    except BrokenDocumentError:
        return day_of(quote.issued_at, quote.job.company)


def quote_of(document: Document) -> IssuedQuote:
    """Return the content of a quote's document; raises as `stored_quote`."""
    return opened(document, QUOTE, quote_from)
