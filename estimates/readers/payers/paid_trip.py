"""A paid trip: offered where material that somebody else supplies came short or of a wrong lot."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimates.domain.money import cents, price_at_margin
from estimates.domain.price_book import PriceBook, PricingTerms
from estimates.readers.prices import book_and_terms
from estimates.readers.rate_card import with_trips
from jobs.domain.checks import ONE
from jobs.domain.payers.supplied import why_again
from jobs.domain.scope.rates import find_rate
from jobs.models import Job
from jobs.services.payers.supplied import supplied_counts

TRIP_WORDS = "Trip back"
"""What the label of a paid trip begins with."""


@dataclass(frozen=True, kw_only=True, slots=True)
class TripOffer:
    """A trip that somebody else's material makes us drive: why, how long, at what price.

    `unit_price` None: at the margin. `amount` is what it comes to, before sales tax. `there` are
    paid trips that stand on the price already; `agreed`: whether the quote is accepted.
    """

    why: str
    hours: Decimal
    unit_cost: Decimal
    unit_price: Decimal | None
    amount: Decimal
    there: tuple[str, ...]
    agreed: bool

    @property
    def label(self) -> str:
        """What the line on the price is called."""
        return f"{TRIP_WORDS}: {self.why}"[:120]


def trip_offer(job: Job, today: date) -> TripOffer | None:
    """Return the trip to be offered for what came short or wrong; None where all is right."""
    why = why_again(supplied_counts(job))
    if not why:
        return None
    book, terms = book_and_terms(job, today)
    rate = find_rate(with_trips(job.company), "travel", "trips", "")
    hours = rate.hours / rate.per if rate else Decimal(job.company.trip_hours)
    cost = cents(hours * book.burdened_rate)
    price = _rate_of_trip(book, terms)
    lines = job.price_lines.filter(label__startswith=TRIP_WORDS)
    return TripOffer(
        why=why,
        hours=hours,
        unit_cost=cost,
        unit_price=price,
        amount=trip_price(hours, book, terms),
        there=tuple(str(line) for line in lines),
        agreed=job.agreed_scope_id is not None,
    )


def trip_price(hours: Decimal, book: PriceBook, terms: PricingTerms) -> Decimal:
    """Return what a trip of so many hours is charged at: by its rate, else at the margin."""
    price = _rate_of_trip(book, terms)
    if price is not None:
        return price
    cost = cents(hours * book.burdened_rate)
    return price_at_margin(cost * (ONE + terms.overhead), terms.margin)


def _rate_of_trip(book: PriceBook, terms: PricingTerms) -> Decimal | None:
    """Return what the rates of a job charge for a trip, where it is priced by them."""
    price = book.find("adder", "trips", "", terms.as_of) if terms.method == "rates" else None
    return None if price is None else cents(price.amount)
