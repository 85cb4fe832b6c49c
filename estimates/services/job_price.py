"""A job's own discount, rounding, tax and lines: keyword-only, atomic, audited."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import TypeVar

from django.db import transaction

from estimates.domain.priced import amounts_of
from estimates.domain.terms.job_terms import require_tax
from estimates.models import JobLine, JobPrice, JobTax, TaxMode
from estimates.services.quotes import price_now
from jobs.domain.checks import BadValueError
from jobs.domain.figures import money
from jobs.models import Job, User
from jobs.models.base import Values
from jobs.services.records import (
    audit_job,
    put_values,
    save_versioned,
    writes_once,
)

Row = TypeVar("Row", JobPrice, JobTax)

DISCOUNT_FIELDS = (
    *("discount_percent", "discount_amount", "discount_reason"),
    *("round_to", "labor_only"),
)
TAX_FIELDS = (
    *("tax_mode", "state_percent", "county_percent", "city_percent"),
    *("labor_taxed", "certificate"),
)
LINE_FIELDS = ("label", "quantity", "unit", "unit_cost", "unit_price", "taxable")


@writes_once(JobPrice, "adjust price")
def adjust_price(
    *, row: JobPrice, user: User, key: str, expected: int, values: Values, today: date
) -> JobPrice:
    """Return the changed discount, rounding and labor only of a job.

    Raises:
        StaleError: somebody else saved first.
        BadValueError: a discount without a reason, said in two ways, or beyond the price.
    """
    put_values(row, values)
    _check_discount(row)
    saved = _saved(row, expected, DISCOUNT_FIELDS)
    _refuse_beyond(saved, today)
    audit_job(job=row.job, user=user, act="Changed discount and rounding of the price")
    return saved


@writes_once(JobPrice, "choose method")
def choose_method(*, row: JobPrice, user: User, key: str, expected: int, method: str) -> JobPrice:
    """Return what makes the price of a job from now on; an empty ``method``: as the company's.

    Raises:
        StaleError: somebody else saved first.
    """
    row.method = method
    saved = _saved(row, expected, ("method",))
    words = row.get_method_display() if method else "what the company prices by"
    audit_job(job=row.job, user=user, act=f"Priced the job by {words}")
    return saved


def _check_discount(row: JobPrice) -> None:
    if row.discount_percent and row.discount_amount:
        accepted = "nothing here while a percentage is taken off"
        raise BadValueError(field="discount_amount", value=row.discount_amount, accepted=accepted)
    if (row.discount_percent or row.discount_amount) and not row.discount_reason.strip():
        accepted = "why something is taken off, such as a second job"
        raise BadValueError(field="discount_reason", value="empty", accepted=accepted)


def _refuse_beyond(row: JobPrice, today: date) -> None:
    """Raise BadValueError for a discount beyond the price; the save is then undone."""
    if not row.discount_amount:
        return
    try:
        _, priced = price_now(row.job, today)
    except BadValueError:
        # Nothing is priced yet; the price itself says when a discount goes beyond it.
        return
    price = amounts_of(line for line in priced.lines if line.kind not in ("discount", "rounding"))
    if row.discount_amount > price:
        accepted = f"up to {money(price, row.job.company.currency)}, the price before it"
        value = money(row.discount_amount, row.job.company.currency)
        raise BadValueError(field="discount_amount", value=value, accepted=accepted)


@writes_once(JobTax, "set tax of job")
def set_job_tax(*, row: JobTax, user: User, key: str, expected: int, values: Values) -> JobTax:
    """Return the changed tax of a job; without a mode it is the company's again.

    Raises:
        StaleError: somebody else saved first.
        BadValueError: rates that are negative or above 30 % together, exempt without a number.
    """
    put_values(row, values)
    require_tax(row.state_percent, row.county_percent, row.city_percent)
    if row.tax_mode == TaxMode.EXEMPT and not row.certificate.strip():
        accepted = "the number of the certificate that the client gave you"
        raise BadValueError(field="certificate", value="empty", accepted=accepted)
    saved = _saved(row, expected, TAX_FIELDS)
    audit_job(job=row.job, user=user, act=f"Set sales tax: {_tax_words(row)}")
    return saved


def _tax_words(row: JobTax) -> str:
    if not row.tax_mode:
        return "as the company's"
    whole: Decimal = row.state_percent + row.county_percent + row.city_percent
    return f"{row.get_tax_mode_display()}, {whole.normalize():f}%"


@writes_once(JobLine, "add price line")
def add_line(*, job: Job, user: User, key: str, values: Values) -> JobLine:
    """Return the new line of a job's price; the same form sent twice makes one."""
    line = JobLine.objects.create(job=job, **values)
    audit_job(job=job, user=user, act=f"Added “{line}” to the price")
    return line


@writes_once(JobLine, "change price line")
def change_line(*, line: JobLine, user: User, key: str, expected: int, values: Values) -> JobLine:
    """Return the changed line. Raises StaleError where somebody else saved first."""
    put_values(line, values)
    save_versioned(line, expected=expected, names=LINE_FIELDS)
    audit_job(job=line.job, user=user, act=f"Changed “{line}” on the price")
    return line


@transaction.atomic
def remove_line(*, line: JobLine, user: User) -> None:
    """Take a line off a job's price; the audit line keeps what it was called."""
    audit_job(job=line.job, user=user, act=f"Took “{line}” off the price")
    line.delete()


def _saved(row: Row, expected: int, names: tuple[str, ...]) -> Row:
    """Return the saved row of a job. Raises StaleError where somebody else saved first."""
    if row.pk is not None:
        return save_versioned(row, expected=expected, names=names)
    # Whoever saw no row sends version 1 too: what is saved first is then another version.
    row.version = expected + 1
    row.save()
    return row
