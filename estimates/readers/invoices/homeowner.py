"""How an accepted quote stands for who pays it: agreed by now, paid, and still owed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimates.models import Quote
from estimates.readers.invoices.agreed import agreed_deal
from estimates.readers.invoices.invoices import account_at, invoices_of, payments_of


@dataclass(frozen=True, kw_only=True, slots=True)
class QuoteStandsAt:
    """The accepted price, what change orders made of it, what was paid, and what is left."""

    quoted: Decimal
    agreed: Decimal
    paid: Decimal
    balance: Decimal

    @property
    def ordered(self) -> Decimal:
        """What change orders add to the quote; below nothing what they take off."""
        return self.agreed - self.quoted


def stands_at(quote: Quote, today: date) -> QuoteStandsAt | None:
    """Return how a quote stands on a day; None where it is not the one that was accepted."""
    deal = agreed_deal(quote.job)
    if deal is None or deal.quote.pk != quote.pk:
        return None
    job, price = quote.job, deal.price
    account = account_at(price.total, list(invoices_of(job)), payments_of(job), today)
    return QuoteStandsAt(
        quoted=price.quoted, agreed=account.agreed, paid=account.paid, balance=account.balance
    )
