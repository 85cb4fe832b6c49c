"""Rows of the database read as the plain values that pricing works with."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import cast

from estimates.domain.estimate import ESTIMATE, priced_from
from estimates.domain.money import tidy
from estimates.domain.price_book import (
    Method,
    Price,
    PriceBook,
    PriceKind,
    PricingTerms,
    TaxBasis,
    TaxMode,
)
from estimates.domain.priced import Priced
from estimates.domain.starting import STARTING_BURDENED_RATE, STARTING_EXCLUSIONS, STARTING_TERMS
from estimates.models import Estimate, PriceItem, PriceTerms
from estimates.readers.job_terms import HUNDRED, rates_in, with_job
from estimates.readers.payers.unit_prices import with_unit_prices
from estimates.readers.price_rows import price_in
from jobs.models import Company, Job
from jobs.readers.documents import opened


def terms_row(company: Company) -> PriceTerms:
    """Return the company's price terms, unsaved starting ones where it has none yet."""
    row = PriceTerms.objects.filter(company=company).first()
    return row or PriceTerms(
        company=company,
        burdened_rate=STARTING_BURDENED_RATE,
        overhead_percent=Decimal(12),
        margin_percent=Decimal(25),
        minimum_charge=Decimal(450),
        deposit_percent=Decimal(30),
        terms=STARTING_TERMS,
        exclusions=STARTING_EXCLUSIONS,
    )


def book_and_terms(job: Job, today: date) -> tuple[PriceBook, PricingTerms]:
    """Return what a job is priced with on a day: the prices that count, and terms with its own."""
    book, terms = company_book_and_terms(job.company, today)
    return with_unit_prices(book, with_job(terms, job), job)


def company_book_and_terms(company: Company, today: date) -> tuple[PriceBook, PricingTerms]:
    """Return what a company prices with on a day, whatever the job."""
    row = terms_row(company)
    return _price_book(company, row), _pricing_terms(row, today)


def _price_book(company: Company, terms: PriceTerms) -> PriceBook:
    """Return every price of the company, old ones too, with its burdened rate."""
    rows = PriceItem.objects.filter(company=company)
    return PriceBook(
        prices=tuple(_price(row) for row in rows),
        burdened_rate=terms.burdened_rate,
        currency=company.currency,
    )


def _pricing_terms(terms: PriceTerms, as_of: date) -> PricingTerms:
    return PricingTerms(
        as_of=as_of.isoformat(),
        method=cast(Method, terms.method),
        overhead=terms.overhead_percent / HUNDRED,
        margin=terms.margin_percent / HUNDRED,
        minimum=terms.minimum_charge,
        tax_mode=cast(TaxMode, terms.tax_mode),
        tax_rates=rates_in(terms),
        tax_basis=cast(TaxBasis, terms.tax_basis),
        labor_taxed=terms.labor_taxed,
        crew_hours_per_day=Decimal(terms.company.crew_day_hours),
    )


def _price(row: PriceItem) -> Price:
    """Return what a unit costs as a floor takes it, whatever the price was said for."""
    amount = price_in(row).unit_cost if row.kind == "material" else tidy(row.amount)
    return Price(
        code=row.code,
        item=row.item,
        label=row.label,
        unit=row.unit,
        amount=amount,
        kind=cast(PriceKind, row.kind),
        effective=row.effective_from.isoformat(),
        seen=(row.last_seen or row.effective_from).isoformat(),
        taxable=row.taxable,
    )


def priced_of(estimate: Estimate) -> Priced:
    """Return what a frozen estimate says. Raises BrokenDocumentError where it can't be read."""
    return opened(estimate.document, ESTIMATE, priced_from)
