"""Who pays for a job and on what terms: keyword-only, atomic, audited."""

from __future__ import annotations

from jobs.domain.checks import BadValueError, require_number
from jobs.models import Client, JobPayer, UnitPricesOf, User
from jobs.models.base import Values
from jobs.services.records import audit, audit_job, put_values, save_versioned, writes_once

PAYER_FIELDS = (
    *("payer", "order_number", "terms", "payment_days"),
    *("retainage_percent", "prices"),
)


@writes_once(JobPayer, "set payer")
def set_payer(
    *, row: JobPayer, user: User, key: str, expected: int, values: Values, new: Values
) -> JobPayer:
    """Return who pays for a job from now on; ``new`` names a payer who is in no list yet.

    Raises:
        StaleError: somebody else saved first.
        BadValueError: a payer chosen and a new one named, unit prices of nobody, retainage or days
            out of bounds.
    """
    put_values(row, values)
    if new and row.payer is not None:
        accepted = f"nothing here while {row.payer} is chosen"
        raise BadValueError(field="new_name", value=new["name"], accepted=accepted)
    if row.prices == UnitPricesOf.PAYER and row.payer is None and not new:
        accepted = "a payer whose unit prices they are"
        raise BadValueError(field="payer", value="the client", accepted=accepted)
    require_number("retainage_percent", row.retainage_percent, least=0, most=row.MOST_RETAINAGE)
    if row.payment_days is not None:
        require_number("payment_days", row.payment_days, least=0, most=row.MOST_DAYS)
    if new:
        row.payer = _added(row, user, new)
    saved = _saved(row, expected)
    audit_job(job=row.job, user=user, act=f"Paid by {row.payer or row.job.client}")
    return saved


def _added(row: JobPayer, user: User, new: Values) -> Client:
    company = row.job.company
    client = Client.objects.create(company=company, **new)
    audit(user=user, company=company, subject=f"client {client.pk}", act=f"Added {client}")
    return client


def _saved(row: JobPayer, expected: int) -> JobPayer:
    """Return the saved row. Raises StaleError where somebody else saved first."""
    if not row._state.adding:  # noqa: SLF001  public by Django's documentation
        return save_versioned(row, expected=expected, names=PAYER_FIELDS)
    # Whoever saw no row sends version 1 too: what is saved first is then another version.
    row.version = expected + 1
    row.save()
    return row
