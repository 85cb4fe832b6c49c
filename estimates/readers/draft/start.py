"""The week in which an accepted quote says that work starts."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import timedelta

from estimates.models import Quote
from estimates.readers.quote import stored_quote
from jobs.domain.board.booked import day_words
from jobs.domain.formats import BrokenDocumentError
from jobs.readers.board.promises import PromisedStart

_TO_SUNDAY = timedelta(days=6)


def promised_weeks(jobs: Sequence[int]) -> Iterable[PromisedStart]:
    """Return the week that the accepted quote of each of these jobs names, as it was issued.

    What its draft says since then is no promise. A quote that can't be read promises nothing here.
    """
    quotes = Quote.objects.filter(job__in=jobs, acceptance__isnull=False)
    for quote in quotes.select_related("document"):
        try:
            monday = stored_quote(quote).start_week
        except BrokenDocumentError:
            continue
        if monday is not None:
            yield PromisedStart(
                job=quote.job_id,
                earliest=monday,
                latest=monday + _TO_SUNDAY,
                words=f"The quote says the week of {day_words(monday)}.",
            )
