"""The terms that go with a quote, from the company's rows, the draft and who pays."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from estimates.domain.priced import Priced
from estimates.domain.quotes.sold import DepositRule, SaleTerms
from estimates.domain.terms.payment import payment_words
from estimates.models import PaymentStages, PriceItem, QuoteDraft, SalesTerms
from estimates.readers.prices import terms_row
from estimates.readers.setup.sales import notices_of, sales_terms
from jobs.domain.checks import ZERO
from jobs.domain.figures import percent
from jobs.models import Company

HUNDRED = Decimal(100)


def sale_terms(draft: QuoteDraft, priced: Priced, today: date) -> SaleTerms:
    """Return what goes with the price of a draft that is issued on this day."""
    company = draft.job.company
    row, sales = terms_row(company), sales_terms(company)
    payer = priced.payer
    staged = sales.payment_stages == PaymentStages.DEPOSIT_PROGRESS_REST
    return SaleTerms(
        issued_on=today,
        valid_days=row.valid_days,
        deposit=_deposit(company, sales, priced, row.deposit_percent),
        progress=sales.progress_percent if staged else ZERO,
        retainage=payer.retainage if payer else ZERO,
        payment_ways=sales.payment_ways,
        payer_words=payment_words(payer, priced.total, priced.currency) if payer else "",
        late_fee=_late_fee(sales),
        warranty_months=sales.warranty_months,
        warranty=sales.warranty_words,
        changes=sales.changes_words,
        terms=row.terms,
        exclusions=draft.exclusions or row.exclusions,
        notices=notices_of(company),
    )


def _deposit(company: Company, sales: SalesTerms, priced: Priced, share: Decimal) -> DepositRule:
    """Return the company's rule; a state's cap is for homeowners, not for a store or builder."""
    return DepositRule(
        percent=share,
        cap=sales.deposit_dollars,
        state="" if priced.payer else sales.state,
        adds_special_order=sales.deposit_adds_special_order,
        special_order=_special_order(company, priced),
    )


def _special_order(company: Company, priced: Priced) -> Decimal:
    """Return what the material costs that is ordered for this job alone."""
    ordered = PriceItem.objects.filter(company=company, kind="material", special_order=True)
    keys = set(ordered.values_list("code", "item"))
    lines = (line for line in priced.lines if line.kind == "material")
    return sum((line.cost for line in lines if (line.code, line.item) in keys), ZERO)


def _late_fee(sales: SalesTerms) -> str:
    if not sales.late_fee_percent:
        return sales.late_fee_words
    rate = percent(sales.late_fee_percent / HUNDRED, 2)
    return f"{rate} a month on what is overdue. {sales.late_fee_words}".strip()
