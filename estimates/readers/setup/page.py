"""What the set-up page says of each part while it is closed: what was typed, in a line."""

from __future__ import annotations

from datetime import time

from estimates.domain.setup.caps import DepositRule
from estimates.domain.setup.parts import plain
from estimates.models import PriceTerms, SalesTerms
from jobs.domain.figures import money
from jobs.models import Company


def summaries_of(company: Company, sales: SalesTerms, price: PriceTerms) -> dict[str, str]:
    """Return by part what is set up, in a line; empty where nothing is."""
    notices = [str(notice) for notice in company.state_notices.all()]
    return {
        "contact": _listed(company.name, *company.address.splitlines(), company.phone),
        "license": _listed(company.license, company.registration, company.insurance),
        "logo": "Chosen" if company.logo_id else "",
        "law": _listed(sales.get_state_display(), _cancel(sales), sales.lead_certificate),
        "payment": _payment(sales, price),
        "terms": _terms(sales, price),
        "numbers": f"{sales.get_numbering_display()}; next job {company.next_job_number}",
        "notices": _listed(*notices),
    }


def rule_of(sales: SalesTerms, price: PriceTerms) -> DepositRule:
    """Return the company's rule on deposits as it is saved."""
    return DepositRule(
        percent_of_total=price.deposit_percent,
        cap=sales.deposit_dollars,
        state=sales.state,
        currency=sales.company.currency,
    )


def _listed(*texts: str) -> str:
    return ", ".join(text.strip() for text in texts if text.strip())


def _cancel(sales: SalesTerms) -> str:
    return "right to cancel printed" if sales.cancel_right else "no right to cancel printed"


def _payment(sales: SalesTerms, price: PriceTerms) -> str:
    deposit = f"{plain(price.deposit_percent)}% deposit"
    if sales.deposit_dollars is not None:
        deposit += f", at most {money(sales.deposit_dollars, sales.company.currency)}"
    progress = sales.progress_percent
    return _listed(deposit, f"{plain(progress)}% half way" if progress else "")


def _terms(sales: SalesTerms, price: PriceTerms) -> str:
    months = sales.warranty_months
    warranty = f"{months} months of warranty" if months else "no warranty"
    return _listed(f"holds {price.valid_days} days", warranty, f"on site {hour(sales.arrives_at)}")


def hour(at: time) -> str:
    """Return an hour of the day as Americans write it: 8:30 am."""
    return f"{at.hour % 12 or 12}:{at.minute:02d} {'am' if at.hour < 12 else 'pm'}"
