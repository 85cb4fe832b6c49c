"""The agreed price of a job: the accepted quote in its stages, and every change order."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from estimates.domain.invoices.content import AgreedSum
from estimates.domain.invoices.stages import (
    AgreedChange,
    AgreedPrice,
    InvoiceLine,
    InvoiceStage,
    stages_by_deposit,
    stages_quoted,
)
from estimates.domain.priced import Priced, PricedLine
from estimates.domain.quote import QuoteContent
from estimates.domain.quotes.content import IssuedQuote, QuoteUnit
from estimates.models import ChangeOrder, Estimate, Quote
from estimates.readers.change_order import stored_order
from estimates.readers.prices import priced_of
from estimates.readers.quote import acceptance_of, agreed_estimate, stored_quote
from jobs.domain.checks import ONE, ZERO
from jobs.models import Job


@dataclass(frozen=True, kw_only=True, slots=True)
class AgreedDeal:
    """What was agreed of a job: the quote, the estimate of the choice taken, and the price."""

    quote: Quote
    estimate: Estimate
    priced: Priced
    price: AgreedPrice

    @property
    def sum(self) -> AgreedSum:
        """What was agreed, as an invoice says it."""
        return AgreedSum(
            label=f"Quote {self.quote.number}",
            amount=self.priced.subtotal,
            tax=self.priced.tax,
            total=self.price.total,
            units=_units(self.priced),
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
    priced = priced_of(estimate)
    return AgreedDeal(
        quote=quote,
        estimate=estimate,
        priced=priced,
        price=AgreedPrice(
            quoted=priced.total,
            stages=stages_in(stored_quote(quote), priced.total, estimate.document.sha256),
            changes=tuple(_change(order) for order in job.change_orders.select_related("document")),
            retainage=priced.payer.retainage if priced.payer else ZERO,
        ),
    )


def stages_in(
    said: QuoteContent | IssuedQuote, total: Decimal, estimate_sha256: str
) -> tuple[InvoiceStage, ...]:
    """Return the stages of a quote for the choice that this estimate priced.

    A quote that says no stages, as the older ones, has its deposit and the rest.
    """
    if isinstance(said, QuoteContent) or not said.stages:
        return stages_by_deposit(total, min(said.deposit, total))
    deposits = {choice.estimate_sha256: choice.deposit for choice in said.choices}
    deposit = deposits.get(estimate_sha256, said.deposit)
    return stages_quoted(said.stages, total=total, deposit=deposit)


def _change(order: ChangeOrder) -> AgreedChange:
    """Return what a change order adds: what was agreed, and the sales tax on the difference."""
    tax = stored_order(order).tax_difference
    return AgreedChange(number=order.number, amount=order.amount + tax)


def _units(priced: Priced) -> tuple[QuoteUnit, ...]:
    """Return the lines of a price by a payer's unit prices; what has none is one line at the end.

    Empty where the price was not made by the unit.
    """
    if priced.payer is None or not priced.payer.unit_prices:
        return ()
    by_unit = [line for line in priced.lines if line.unit_price is not None and line.amount]
    rest = priced.subtotal - sum((line.amount for line in by_unit), ZERO)
    units = tuple(_unit(line) for line in by_unit)
    if not rest:
        return units
    other = QuoteUnit(
        label="Material and all else", quantity=ONE, unit="job", each=rest, amount=rest
    )
    return (*units, other)


def _unit(line: PricedLine) -> QuoteUnit:
    where = line.zone or line.room
    return QuoteUnit(
        label=f"{line.label}, {where}" if where else line.label,
        quantity=line.quantity,
        unit=line.unit,
        each=line.unit_price or ZERO,
        amount=line.amount,
    )
