"""The days that an issued quote names beside those that are priced now."""

from __future__ import annotations

from dataclasses import dataclass

from estimates.models import Quote
from jobs.domain.formats import BrokenDocumentError
from jobs.readers.penciled.words import differing_words
from jobs.readers.scope import scope_value
from jobs.services.penciled.standing import PenciledStanding


@dataclass(frozen=True, kw_only=True, slots=True)
class QuotedOtherwise:
    """The newest quote that stands, and what its days are otherwise than the penciled crew's."""

    quote: Quote
    differs: tuple[str, ...]


def quoted_otherwise(penciled: PenciledStanding | None) -> QuotedOtherwise | None:
    """Return the quote that names other days than the penciled crew would have; None without one.

    Also None where nobody is penciled in, or the crew is not priced yet: that is said first.
    """
    if penciled is None or penciled.real is None or penciled.out_of_date:
        return None
    quotes = Quote.objects.filter(job=penciled.row.job_id, withdrawn_at__isnull=True)
    quote = quotes.select_related("estimate__scope__document", "estimate__scope__job").first()
    if quote is None:
        return None
    try:
        kept = scope_value(quote.estimate.scope).schedule
    except BrokenDocumentError:
        return None
    words = differing_words(kept, penciled.real, was=f"in quote {quote.number}", now="now priced")
    return QuotedOtherwise(quote=quote, differs=tuple(words)) if words else None
