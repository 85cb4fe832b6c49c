"""The prices that a draft still lacks, of the job as it is priced and of every choice."""

from __future__ import annotations

from datetime import date

from estimates.domain.book.needs import needs_of
from estimates.models import QuoteDraft
from estimates.readers.draft.preview import drafted_choices
from estimates.readers.price_needs import NeededPrice, needed_prices
from estimates.readers.prices import book_and_terms
from jobs.domain.checks import BadValueError
from jobs.services.scope import work_out


def missing_prices(draft: QuoteDraft, today: date) -> tuple[NeededPrice, ...]:
    """Return what the choices of a draft take that has no price today, each thing once.

    Empty where a choice can't be worked out at all: what refuses it says so itself.
    """
    job = draft.job
    book, terms = book_and_terms(job, today)
    try:
        scopes = [
            work_out(job, otherwise=each.otherwise, plans=each.plans)
            for each in drafted_choices(draft)
        ]
    except BadValueError:
        return ()
    things = {
        (need.code, need.item): None for each in scopes for need in needs_of(each, book, terms)
    }
    needed = needed_prices(job.company, list(things), today)
    return tuple(each for each in needed if each.row is None)
