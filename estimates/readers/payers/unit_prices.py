"""Unit prices that a payer agreed to, and a job priced by them."""

from __future__ import annotations

from dataclasses import replace

from django.db.models import QuerySet

from estimates.domain.card.rows import BY_KEY, CardRow
from estimates.domain.money import tidy
from estimates.domain.price_book import SOLD, Price, PriceBook, PricingTerms
from estimates.models import PayerPrice
from jobs.domain.checks import ZERO
from jobs.models import Client, Job, UnitPricesOf
from jobs.readers.payers.payer import payer_row


def unit_prices_of(payer: Client, row: CardRow | None = None) -> QuerySet[PayerPrice]:
    """Return every unit price of a payer, or of one row, old and later ones too, newest first."""
    prices = PayerPrice.objects.filter(client=payer).select_related("client__company")
    if row is not None:
        prices = prices.filter(code=row.code, item=row.item)
    return prices.order_by("code", "item", "-effective_from")


def unit_price_payer(job: Job) -> Client | None:
    """Return the payer whose unit prices make the price of a job; None where ours do."""
    row = payer_row(job)
    return row.payer if row.prices == UnitPricesOf.PAYER else None


def with_unit_prices(
    book: PriceBook, terms: PricingTerms, job: Job
) -> tuple[PriceBook, PricingTerms]:
    """Return book and terms of a job with its payer's unit prices in place of our rates.

    Where ours count, they are as they were. The least that we come out for is ours: no payer agreed
    to it, unless the payer's prices have a half day of their own.
    """
    if terms.payer is None or not terms.payer.unit_prices:
        return book, terms
    payer = unit_price_payer(job)
    agreed = () if payer is None else tuple(_price(row) for row in unit_prices_of(payer))
    materials = tuple(price for price in book.prices if price.kind == "material")
    return (
        replace(book, prices=(*materials, *agreed)),
        replace(terms, method="rates", minimum=ZERO),
    )


def _price(row: PayerPrice) -> Price:
    known = BY_KEY.get((row.code, row.item))
    return Price(
        code=row.code,
        item=row.item,
        label=known.label if known else SOLD[row.code].label,
        unit=row.unit,
        amount=tidy(row.amount),
        kind="adder",
        effective=row.effective_from.isoformat(),
        taxable=row.taxable,
    )
