"""What a price was made with, as values that stay: terms of the job, prices, rates, their dates."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from estimates.domain.price_book import HALF_DAY, Price, PriceBook, PriceKind, PricingTerms
from estimates.domain.terms.job_terms import Discount, TaxRates
from jobs.domain.documents import stored
from jobs.domain.scope.rates_used import RateUsed
from jobs.domain.scope.scope import FrozenScope


@stored("kind code item label unit amount taxable effective seen")
@dataclass(frozen=True, kw_only=True, slots=True)
class PriceUsed:
    """A price as it stood in the book: for one unit, in force from a day, last seen on a day."""

    kind: PriceKind
    code: str
    item: str
    label: str
    unit: str
    amount: Decimal
    taxable: bool
    effective: str
    seen: str


@stored(
    "burdened_rate overhead margin minimum crew_hours_per_day tax_rates labor_taxed certificate",
    "labor_only discount round_to prices rates",
)
@dataclass(frozen=True, kw_only=True, slots=True)
class PriceBasis:
    """The terms of a price, the prices that it took from the book, and the company's whole rates.

    Shares are parts of one.
    """

    burdened_rate: Decimal
    overhead: Decimal
    margin: Decimal
    minimum: Decimal
    crew_hours_per_day: Decimal
    tax_rates: TaxRates
    labor_taxed: bool
    certificate: str
    labor_only: bool
    discount: Discount | None
    round_to: int
    prices: tuple[PriceUsed, ...]
    rates: tuple[RateUsed, ...] = ()


def basis_of(scope: FrozenScope, book: PriceBook, terms: PricingTerms) -> PriceBasis:
    """Return what a scope is priced with; its rates are put there by whoever knows them."""
    return PriceBasis(
        burdened_rate=book.burdened_rate,
        overhead=terms.overhead,
        margin=terms.margin,
        minimum=terms.minimum,
        crew_hours_per_day=terms.crew_hours_per_day,
        tax_rates=terms.tax_rates,
        labor_taxed=terms.labor_taxed,
        certificate=terms.certificate,
        labor_only=terms.labor_only,
        discount=terms.discount,
        round_to=terms.round_to,
        prices=tuple(_used(price) for price in _prices_for(scope, book, terms)),
    )


def _prices_for(scope: FrozenScope, book: PriceBook, terms: PricingTerms) -> Iterable[Price]:
    """Return each price that the quantities of a scope find, once, in the scope's order."""
    priced = [
        book.find(kind, entry.code, entry.item, terms.as_of)
        for entry in scope.quantities
        for kind in _kinds_for(entry.code, entry.item, terms)
        if entry.amount
    ]
    if terms.method == "rates":
        priced.append(book.find("adder", HALF_DAY, "", terms.as_of))
    return dict.fromkeys(price for price in priced if price is not None)


def _kinds_for(code: str, item: str, terms: PricingTerms) -> tuple[PriceKind, ...]:
    return ("adder",) if terms.buys(code, item) else ("material", "adder")


def _used(price: Price) -> PriceUsed:
    return PriceUsed(
        kind=price.kind,
        code=price.code,
        item=price.item,
        label=price.label,
        unit=price.unit,
        amount=price.amount,
        taxable=price.taxable,
        effective=price.effective,
        seen=price.seen or price.effective,
    )
