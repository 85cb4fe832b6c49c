"""The rate card of a company from its rows, each rate beside what one unit costs by the hours."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Generic, TypeVar, cast, get_args

from django.db.models import Exists, OuterRef, QuerySet

from estimates.domain.card.needs import rate_needs
from estimates.domain.card.rows import ROWS, CardRow
from estimates.domain.card.unit_costs import LAYING, UnitCost, laying_cost, unit_cost
from estimates.domain.price_book import Method
from estimates.domain.priced import Priced
from estimates.domain.pricing import price_scope
from estimates.models import PayerPrice, PriceItem
from estimates.readers.job_terms import job_price_row
from estimates.readers.payers.unit_prices import unit_prices_of
from estimates.readers.prices import book_and_terms, company_book_and_terms, terms_row
from jobs.domain.formats import BrokenDocumentError
from jobs.domain.scope.rates import ProductionRate, find_rate
from jobs.domain.scope.scope import FrozenScope
from jobs.models import Client, Company, Job, Scope
from jobs.readers.scope import company_rates, scope_value

FLOORS_LOOKED_AT = 5
"""The cost of laying is taken from so many of the newest jobs."""


AnyRate = PriceItem | PayerPrice
"""A rate of the company's card, or a unit price that a payer agreed to."""

R = TypeVar("R", PriceItem, PayerPrice)


@dataclass(frozen=True, kw_only=True, slots=True)
class RateRows(Generic[R]):
    """The rows of one rate: the one that counts today, or will first; and the one after it."""

    counts: R | None = None
    later: R | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class CardLine:
    """A row of the card with its rate and what one unit costs; `at_margin` is what would do."""

    row: CardRow
    rates: RateRows[PriceItem] | RateRows[PayerPrice]
    cost: UnitCost
    at_margin: Decimal

    @property
    def is_short(self) -> bool:
        """Whether one unit costs more than its rate brings."""
        return self.rates.counts is not None and self.cost.cost > self.rates.counts.amount


def adders_of(company: Company) -> QuerySet[PriceItem]:
    """Return every rate of a company's card, old ones and later ones too, the newest first."""
    rows = PriceItem.objects.filter(company=company, kind="adder")
    return rows.order_by("code", "item", "-effective_from")


def rates_for(company: Company, row: CardRow) -> QuerySet[PriceItem]:
    """Return every rate that one row of the card had, the newest first."""
    return adders_of(company).filter(code=row.code, item=row.item)


def rate_rows(rates: Iterable[R], today: date) -> dict[tuple[str, str], RateRows[R]]:
    """Return by code and item the rate that counts today, and the next one."""
    by_key: dict[tuple[str, str], RateRows[R]] = {}
    for rate in rates:
        rows = by_key.get((rate.code, rate.item)) or RateRows()
        in_force = rows.counts is not None and rows.counts.effective_from <= today
        if not in_force:
            by_key[rate.code, rate.item] = RateRows(counts=rate, later=rows.counts)
    return by_key


def row_rates(company: Company, row: CardRow, today: date) -> RateRows[PriceItem]:
    """Return the rates of one row as they stand."""
    rates = rates_for(company, row).select_related("company")
    return rate_rows(rates, today).get(row.key, RateRows())


def card_of(
    company: Company,
    today: date,
    rows: tuple[CardRow, ...] = ROWS,
    prices: Iterable[PayerPrice] | None = None,
) -> list[CardLine]:
    """Return rows of the card, each with its rate and its cost; or with a payer's ``prices``."""
    book, terms = company_book_and_terms(company, today)
    stand: Mapping[tuple[str, str], RateRows[PriceItem] | RateRows[PayerPrice]]
    if prices is None:
        stand = rate_rows(adders_of(company).select_related("company"), today)
    else:
        stand = rate_rows(prices, today)
    rates, laying = with_trips(company), laying_cost(_newest_scopes(company), book, terms)
    lines = []
    for row in rows:
        cost = laying if row.code == LAYING else None
        cost = cost or unit_cost(row.code, row.item, rates=rates, book=book, terms=terms)
        at_margin = cost.at_margin(terms)
        standing = stand.get(row.key, RateRows())
        lines.append(CardLine(row=row, rates=standing, cost=cost, at_margin=at_margin))
    return lines


def with_trips(company: Company) -> tuple[ProductionRate, ...]:
    """The company's production rates, and the hours of a trip as the company has them."""
    rates = company_rates(company)
    if find_rate(rates, "travel", "trips", ""):
        return rates
    hours, source = Decimal(company.trip_hours), "for the company"
    return (
        *rates,
        ProductionRate(task_code="travel", driver="trips", hours=hours, source=source),
    )


def _newest_scopes(company: Company) -> list[FrozenScope]:
    """The newest scope of each of the newest jobs that have one which can be read."""
    newer = Scope.objects.filter(job=OuterRef("job"), number__gt=OuterRef("number"))
    rows = Scope.objects.filter(~Exists(newer), job__company=company).select_related("document")
    scopes = []
    for row in rows.order_by("-made_at", "-pk")[:FLOORS_LOOKED_AT]:
        try:
            scopes.append(scope_value(row))
        except BrokenDocumentError:
            continue
    return scopes


@dataclass(frozen=True, kw_only=True, slots=True)
class BothWays:
    """A scope priced by its cost and by the rate card, all else the same; and which one counts."""

    method: Method
    prices: Mapping[Method, Priced]


def priced_both_ways(job: Job, scope: FrozenScope, today: date) -> BothWays:
    """Return the price of a job's scope in both ways."""
    book, terms = book_and_terms(job, today)
    prices = {
        method: price_scope(scope, book, replace(terms, method=method))
        for method in get_args(Method)
    }
    return BothWays(method=terms.method, prices=prices)


def wanted_lines(
    job: Job, scope: FrozenScope, today: date, payer: Client | None = None
) -> list[CardLine]:
    """Return the rows in which a scope wants a rate, or a unit price of its payer."""
    needs = rate_needs(scope, *book_and_terms(job, today))
    prices = None if payer is None else unit_prices_of(payer)
    return card_of(job.company, today, needs, prices) if needs else []


def method_of(job: Job) -> Method:
    """Return what makes the price of a job: its own word, else the company's."""
    return cast(Method, job_price_row(job).method or terms_row(job.company).method)
