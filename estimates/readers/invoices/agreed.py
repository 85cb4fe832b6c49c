"""The agreed price of a job: the accepted quote in its stages, and every change order."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from estimates.domain.invoices.content import AgreedSum
from estimates.domain.invoices.stages import (
    AgreedChange,
    InvoiceLine,
    InvoiceStage,
    PriceInStages,
    stages_by_deposit,
    stages_quoted,
)
from estimates.domain.priced import Priced
from estimates.domain.quotes.content import IssuedQuote, QuoteUnit
from estimates.domain.quotes.price_words import units_of
from estimates.models import ChangeOrder, Estimate, Quote
from estimates.readers.orders.stored import stored_order
from estimates.readers.prices import priced_of
from estimates.readers.quote import acceptance_of, agreed_estimate, stored_quote
from jobs.domain.checks import ZERO
from jobs.models import Job


@dataclass(frozen=True, kw_only=True, slots=True)
class AgreedDeal:
    """What was agreed of a job: the quote, the estimate of the choice taken, and the price."""

    quote: Quote
    estimate: Estimate
    priced: Priced
    price: PriceInStages
    said: IssuedQuote

    @property
    def sum(self) -> AgreedSum:
        """What was agreed, as an invoice says it."""
        return AgreedSum(
            label=f"Quote {self.quote.called}",
            amount=self.priced.subtotal,
            tax=self.priced.tax,
            total=self.price.total,
            units=_units(self.said, self.priced),
            changes=tuple(
                InvoiceLine(label=f"Change order {one.number}", amount=one.amount)
                for one in self.price.changes
            ),
        )


def agreed_deal(job: Job) -> AgreedDeal | None:
    """Return what was agreed of a job; None before a quote is accepted."""
    acceptance = acceptance_of(job)
    if acceptance is None:
        return None
    quote, estimate = acceptance.quote, agreed_estimate(acceptance)
    priced, said = priced_of(estimate), stored_quote(quote)
    return AgreedDeal(
        quote=quote,
        estimate=estimate,
        priced=priced,
        said=said,
        price=PriceInStages(
            quoted=priced.total,
            stages=stages_in(said, priced.total, estimate.document.sha256),
            changes=tuple(_change(order) for order in job.change_orders.select_related("document")),
            retainage=priced.payer.retainage if priced.payer else ZERO,
            tax=priced.tax,
        ),
    )


def stages_in(said: IssuedQuote, total: Decimal, estimate_sha256: str) -> tuple[InvoiceStage, ...]:
    """Return the stages of a quote for the choice that this estimate priced.

    A quote that says no stages, as the older ones, has its deposit and the rest.
    """
    if not said.stages:
        return stages_by_deposit(total, min(said.deposit, total))
    deposits = {choice.estimate_sha256: choice.deposit for choice in said.choices}
    deposit = deposits.get(estimate_sha256, said.deposit)
    return stages_quoted(said.stages, total=total, deposit=deposit)


def _change(order: ChangeOrder) -> AgreedChange:
    """Return what a change order adds: what was agreed, with its sales tax."""
    tax = stored_order(order).tax
    return AgreedChange(number=order.number, amount=order.amount + tax, tax=tax)


def _units(said: IssuedQuote, priced: Priced) -> tuple[QuoteUnit, ...]:
    """Return the lines of a price by the unit, where the quote or the payer has one; else none."""
    by_unit = said.detail == "unit" or (priced.payer is not None and priced.payer.unit_prices)
    return units_of(priced) if by_unit else ()
