"""Sales terms, letterhead and notices of a company, and what it lacks before it can send."""

from __future__ import annotations

from datetime import date, time
from typing import cast

from estimates.domain.quotes.content import Letterhead, QuoteSection
from estimates.domain.setup.missing import Missing, advised, lacking
from estimates.domain.setup.numbering import Numbering, quote_number
from estimates.domain.setup.starting import STARTING_CHANGES, STARTING_PAMPHLET
from estimates.models import SalesTerms, StateNotice
from jobs.models import Company


def sales_terms(company: Company) -> SalesTerms:
    """Return the company's sales terms, an unsaved row of starting ones where it has none yet."""
    row = SalesTerms.objects.filter(company=company).first()
    return row or SalesTerms(
        company=company, changes_words=STARTING_CHANGES, lead_pamphlet=STARTING_PAMPHLET
    )


def arrival(company: Company) -> time:
    """Return the hour at which the company says that its crews arrive."""
    return sales_terms(company).arrives_at


def letterhead_of(company: Company) -> Letterhead:
    """Return who sends a quote; what is not typed yet is empty."""
    lines = (line.strip() for line in company.address.splitlines())
    return Letterhead(
        name=company.name.strip(),
        address=tuple(line for line in lines if line),
        phone=company.phone.strip(),
        email=company.email,
        license=company.license.strip(),
        registration=company.registration.strip(),
        insurance=company.insurance.strip(),
        logo_sha256=company.logo.sha256 if company.logo else "",
    )


def notices_of(company: Company) -> tuple[QuoteSection, ...]:
    """Return the notices of the state, in their turn."""
    rows = StateNotice.objects.filter(company=company)
    return tuple(QuoteSection(title=row.title, text=row.text) for row in rows)


def missing_for_sending(company: Company) -> tuple[Missing, ...]:
    """Return what a quote of the company can't be sent without; empty where it can be."""
    return lacking(letterhead_of(company))


def advised_for_sending(company: Company) -> tuple[Missing, ...]:
    """Return what a quote can be sent without, though most carry it."""
    return advised(letterhead_of(company), state=sales_terms(company).state)


def number_of_quote(company: Company, *, job_number: int, number: int, issued_on: date) -> str:
    """Return what a quote is called on paper, as the company numbers its quotes now."""
    numbering = cast(Numbering, sales_terms(company).numbering)
    return quote_number(numbering, job_number=job_number, number=number, issued_on=issued_on)
