"""What one job's price has of its own, read from its rows."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import cast

from estimates.domain.price_book import Allowance, Method, PricingTerms, TaxMode
from estimates.domain.terms.job_terms import AddedLine, Discount, TaxRates
from estimates.models import JobAllowance, JobLine, JobPrice, JobTax, PriceTerms
from estimates.readers.options.work_split import with_split
from estimates.readers.payers.payer import payer_terms, supplied_items
from jobs.models import Job

HUNDRED = Decimal(100)


def job_price_row(job: Job) -> JobPrice:
    """Return what one job's price has of its own; an unsaved row where nobody said any."""
    return JobPrice.objects.filter(job=job).first() or JobPrice(job=job)


def job_tax_row(job: Job) -> JobTax:
    """Return the tax of a job; an unsaved row where it is the company's."""
    return JobTax.objects.filter(job=job).first() or JobTax(job=job)


def with_job(terms: PricingTerms, job: Job) -> PricingTerms:
    """Return the company's terms with what this job has of its own."""
    row, tax = job_price_row(job), job_tax_row(job)
    terms = replace(
        terms,
        method=cast(Method, row.method or terms.method),
        discount=discount_in(row),
        round_to=row.round_to,
        labor_only=row.labor_only,
        added=tuple(added_in(line) for line in job.price_lines.all()),
        payer=payer_terms(job),
        supplied_items=supplied_items(job),
        allowances=tuple(
            allowance_in(row, number) for number, row in enumerate(job.allowances.all(), start=1)
        ),
    )
    terms = with_split(terms, job)
    if not tax.tax_mode:
        return terms
    return replace(
        terms,
        tax_mode=cast(TaxMode, tax.tax_mode),
        tax_rates=rates_in(tax),
        labor_taxed=tax.labor_taxed,
        certificate=tax.certificate,
    )


def discount_in(row: JobPrice) -> Discount | None:
    """Return the discount of a job; None where there is none."""
    if not row.discount_percent and not row.discount_amount:
        return None
    return Discount(
        part=row.discount_percent / HUNDRED, amount=row.discount_amount, reason=row.discount_reason
    )


def added_in(row: JobLine) -> AddedLine:
    """Return an added line as pricing knows it."""
    return AddedLine(
        label=row.label,
        quantity=row.quantity,
        unit=row.unit,
        unit_cost=row.unit_cost,
        unit_price=row.unit_price,
        taxable=row.taxable,
    )


def allowance_in(row: JobAllowance, number: int) -> Allowance:
    """Return an allowance as pricing knows it; `number` is its place among those of the job."""
    return Allowance(
        code=f"allowance-{number}",
        label=row.label,
        unit=row.unit,
        units=row.units.normalize(),
        unit_price=row.unit_price,
        unit_cost=row.unit_cost,
        taxable=row.taxable,
        evidence=row.evidence,
    )


def rates_in(row: JobTax | PriceTerms) -> TaxRates:
    """Return the tax of a row as parts of one."""
    return TaxRates(
        state=row.state_percent / HUNDRED,
        county=row.county_percent / HUNDRED,
        city=row.city_percent / HUNDRED,
    )
