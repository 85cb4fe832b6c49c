"""Where quotes stand, from their rows."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from django.db.models import Q

from estimates.domain.quotes.states import QuoteFacts, QuoteState, quote_state
from estimates.models import Quote, QuoteEvent
from jobs.clock import today_of

SENT = (QuoteEvent.Kind.MAILED, QuoteEvent.Kind.TEXTED)


def state_of(quote: Quote, today: date | None = None) -> QuoteState:
    """Return where a quote stands on this day, else today where the company works."""
    day = today or today_of(quote.job.company)
    return states_of([quote], day)[quote.pk]


def states_of(quotes: Iterable[Quote], today: date) -> dict[int, QuoteState]:
    """Return where each of these quotes stands, by its key; three queries for any number."""
    rows = list(quotes)
    happened: dict[int, set[str]] = {}
    events = QuoteEvent.objects.filter(quote__in=rows).order_by()
    for pk, kind in events.values_list("quote", "kind").distinct():
        happened.setdefault(pk, set()).add(kind)
    newest, accepted = _last_words({row.job_id for row in rows})
    return {
        row.pk: quote_state(
            QuoteFacts(
                valid_until=row.valid_until,
                sent=not happened.get(row.pk, set()).isdisjoint(SENT),
                seen=QuoteEvent.Kind.SEEN in happened.get(row.pk, ()),
                accepted=accepted.get(row.job_id) == row.pk,
                declined=QuoteEvent.Kind.DECLINED in happened.get(row.pk, ()),
                withdrawn=row.withdrawn_at is not None,
                newer=row.job_id in accepted or newest.get(row.job_id, row.pk) != row.pk,
            ),
            today,
        )
        for row in rows
    }


def _last_words(jobs: set[int]) -> tuple[dict[int, int], dict[int, int]]:
    """Return by job the newest quote that stands, and the accepted one."""
    rows = Quote.objects.filter(job__in=jobs).order_by("number")
    standing = rows.filter(Q(withdrawn_at=None)).values_list("job", "pk")
    return dict(standing), dict(rows.exclude(acceptance=None).values_list("job", "pk"))
