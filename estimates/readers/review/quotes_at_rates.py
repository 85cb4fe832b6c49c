"""What the last quotes would have been at other rates: nothing of them is touched."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimates.domain.orders.as_then import AgreedPrice, book_then, terms_then
from estimates.domain.priced import Priced
from estimates.domain.pricing import price_scope
from estimates.models import Quote
from estimates.readers.prices import book_and_terms, priced_of
from jobs.domain.formats import BrokenDocumentError
from jobs.domain.rates.reckoned import at_rates
from jobs.domain.scope.rates import ProductionRate
from jobs.domain.scope.rates_used import as_rate
from jobs.domain.scope.scope import FrozenScope
from jobs.models import Company
from jobs.readers.scope import company_rates, scope_value

LAST = 5


@dataclass(frozen=True, kw_only=True, slots=True)
class QuoteAtRates:
    """A quote that was issued: its hours and price, and what they would be at other rates."""

    quote: Quote
    hours: Decimal
    hours_then: Decimal
    price: Decimal
    price_then: Decimal
    cost_change: Decimal

    @property
    def change(self) -> Decimal:
        """By how much its price would differ, before tax."""
        return self.price_then - self.price


def last_quotes_at(
    company: Company, rates: Sequence[ProductionRate], today: date
) -> tuple[QuoteAtRates, ...]:
    """Return the last quotes of a company as they are, and as these rates would make them.

    One of a job at most, the newest first; a quote whose papers can't be read is left out.
    """
    rows = Quote.objects.filter(job__company=company, withdrawn_at=None).order_by("-issued_at")
    rows = rows.select_related("job__company", "job__client")
    rows = rows.select_related("estimate__document", "estimate__scope__document")
    quotes: dict[int, Quote] = {}
    for quote in rows[: LAST * 4]:
        quotes.setdefault(quote.job_id, quote)
    last = list(quotes.values())[:LAST]
    return tuple(each for quote in last if (each := _at(quote, rates, today)) is not None)


def _at(quote: Quote, rates: Sequence[ProductionRate], today: date) -> QuoteAtRates | None:
    try:
        scope, priced = scope_value(quote.estimate.scope), priced_of(quote.estimate)
    except BrokenDocumentError:
        return None
    kept = [as_rate(used) for used in scope.rates if used.counts]
    then = at_rates(scope, kept or company_rates(quote.job.company), rates)
    before = _priced(quote, scope, priced, scope, today)
    after = _priced(quote, scope, priced, then, today)
    return QuoteAtRates(
        quote=quote,
        hours=scope.crews_hours,
        hours_then=then.crews_hours,
        price=priced.subtotal,
        price_then=priced.subtotal + after.subtotal - before.subtotal,
        cost_change=after.labor_cost - before.labor_cost,
    )


def _priced(
    quote: Quote, quoted: FrozenScope, priced: Priced, scope: FrozenScope, today: date
) -> Priced:
    """Return a scope at the prices and terms that a quote was made with."""
    known, terms = book_and_terms(quote.job, today)
    agreed = (AgreedPrice(scope=quoted, priced=priced),)
    return price_scope(
        scope, book_then(agreed, known, today.isoformat()), terms_then(priced, terms)
    )
