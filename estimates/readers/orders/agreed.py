"""What a job is agreed at: quote and change orders, and what these were priced with."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimates.domain.options.work_split import as_split
from estimates.domain.orders.as_then import AgreedPrice, book_then, priced_since, terms_then
from estimates.domain.price_book import PriceBook, PricingTerms
from estimates.domain.priced import Priced
from estimates.domain.pricing import price_scope
from estimates.readers.orders.stored import prices_of_orders, stored_order
from estimates.readers.prices import book_and_terms, priced_of
from estimates.readers.quote import acceptance_of, agreed_estimate
from jobs.domain.checks import ZERO
from jobs.domain.scope.scope import FrozenScope
from jobs.models import Job
from jobs.readers.scope import scope_value


@dataclass(frozen=True, kw_only=True, slots=True)
class AgreedTotals:
    """What a job is agreed at by now: quote and change orders, before tax, the tax, and with it."""

    subtotal: Decimal
    tax: Decimal

    @property
    def total(self) -> Decimal:
        """What is to be paid in all."""
        return self.subtotal + self.tax


def agreed_subtotal(job: Job) -> Decimal | None:
    """Return what a job is agreed at before tax; None before a quote was accepted."""
    accepted = acceptance_of(job)
    if accepted is None:
        return None
    orders = sum((order.amount for order in job.change_orders.all()), ZERO)
    return priced_of(agreed_estimate(accepted)).subtotal + orders


def agreed_totals(job: Job) -> AgreedTotals | None:
    """Return what a job is agreed at; None before a quote was accepted."""
    accepted = acceptance_of(job)
    if accepted is None:
        return None
    quoted = priced_of(agreed_estimate(accepted))
    orders = list(job.change_orders.select_related("document"))
    return AgreedTotals(
        subtotal=quoted.subtotal + sum((order.amount for order in orders), ZERO),
        tax=quoted.tax + sum((stored_order(order).tax for order in orders), ZERO),
    )


@dataclass(frozen=True, kw_only=True, slots=True)
class PricedAsThen:
    """The prices and terms that a change of a job is priced with, and where they come from.

    ``known`` are the prices of today, for what nothing before had a price for.
    """

    agreed: tuple[AgreedPrice, ...]
    known: PriceBook
    book: PriceBook
    terms: PricingTerms

    @property
    def quoted(self) -> Priced:
        """The accepted quote's own price."""
        return self.agreed[0].priced

    def price(self, scope: FrozenScope, *, as_agreed: bool = False) -> Priced:
        """Return a scope at the prices of then; ``as_agreed``: with its own split of the work."""
        terms = as_split(self.terms, scope) if as_agreed else self.terms
        return price_scope(scope, self.book, terms)

    def notes(self, now: FrozenScope | None = None) -> tuple[str, ...]:
        """Return in words what is to be known of the prices and rates."""
        day = date.fromisoformat(self.quoted.as_of)
        said = f"{day:%B} {day.day}, {day.year}"
        lines = []
        if self.quoted.basis is None:
            lines.append(
                f"The accepted quote is of an older form that did not keep its prices: those in "
                f"force on {said} are used, and the margin that its own figures show."
            )
        if not self.agreed[0].scope.rates:
            lines.append(
                "Its scope did not keep its rates: each is the one in the sentence of its task, "
                "and today's for work that no sentence speaks of."
            )
        if now is not None:
            since = priced_since(self.agreed, now, self.known, self.book)
            if since:
                lines.append(
                    f"At today's price, since there was none on {said}: {', '.join(since)}."
                )
        return tuple(lines)


def priced_as_then(job: Job, today: date) -> PricedAsThen | None:
    """Return what a change of a job is priced with; None before a quote was accepted.

    Raises BrokenDocumentError where quote, scope or change order can't be read.
    """
    accepted = acceptance_of(job)
    if accepted is None:
        return None
    estimate = agreed_estimate(accepted)
    quoted = AgreedPrice(scope=scope_value(estimate.scope), priced=priced_of(estimate))
    orders = list(job.change_orders.select_related("document", "scope__document"))
    prices = zip(orders, prices_of_orders(orders), strict=True)
    changed = (AgreedPrice(scope=scope_value(row.scope), priced=each) for row, each in prices)
    agreed = (quoted, *changed)
    known, terms = book_and_terms(job, today)
    return PricedAsThen(
        agreed=agreed,
        known=known,
        book=book_then(agreed, known, today.isoformat()),
        terms=terms_then(quoted.priced, terms),
    )
