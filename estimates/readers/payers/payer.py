"""Who pays for a job, as pricing knows it."""

from __future__ import annotations

from decimal import Decimal

from estimates.domain.terms.job_terms import SuppliedItem
from estimates.domain.terms.payer import PayerTerms
from jobs.models import Job, SuppliedBy, UnitPricesOf
from jobs.readers.payers.payer import payer_row
from jobs.readers.payers.supplied import supplier_names


def payer_terms(job: Job) -> PayerTerms | None:
    """Return the payer of a job with order number and terms; None where the client pays."""
    row = payer_row(job)
    if row.payer is None:
        return None
    return PayerTerms(
        name=row.payer.name,
        order_number=row.order_number,
        terms=row.terms,
        payment_days=row.payment_days,
        retainage=row.retainage_percent / Decimal(100),
        unit_prices=row.prices == UnitPricesOf.PAYER,
    )


def supplied_items(job: Job) -> tuple[SuppliedItem, ...]:
    """Return the materials of a job that its client or its payer supplies."""
    rows = list(job.supplied.exclude(whose=SuppliedBy.OURS))
    names = supplier_names(job) if rows else {}
    return tuple(SuppliedItem(code=row.code, item=row.item, by=names[row.whose]) for row in rows)
