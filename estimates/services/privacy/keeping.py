"""The owner's choice of how long photographs and clients are kept."""

from __future__ import annotations

from jobs.models import Company, User
from jobs.models.base import Values
from jobs.services.records import audit, put_values, save_versioned, writes_once

KEEPING_FIELDS = ("photographs_months", "clients_months")


@writes_once(Company, "set keeping")
def set_keeping(
    *, company: Company, user: User, key: str, expected: int, values: Values
) -> Company:
    """Return the company with its choice. Raises StaleError where somebody else saved first."""
    put_values(company, values)
    save_versioned(company, expected=expected, names=KEEPING_FIELDS)
    audit(user=user, company=company, subject="company", act="Set how long things are kept")
    return company
