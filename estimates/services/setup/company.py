"""A part of the set-up saved: whatever rows it is kept in, all of them or none."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from estimates.domain.setup.parts import require_parts
from estimates.readers.prices import terms_row
from estimates.readers.setup.sales import sales_terms
from jobs.domain.checks import BadValueError
from jobs.models import Company, User
from jobs.models.base import Values, Versioned
from jobs.services.records import audit, put_values, save_versioned, writes_once

CREATED = 2
"""The version of a row that a form made: one that saw no row yet is overtaken by it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class RowChange:
    """Values for a row, which was of the version `expected` when a person saw it."""

    row: Versioned
    expected: int
    values: Values


@writes_once(Company, "set up company")
def save_setup(
    *, company: Company, user: User, key: str, part: str, changes: Sequence[RowChange]
) -> Company:
    """Return the company once the values of a ``part`` are in its rows.

    Raises:
        StaleError: somebody else saved one of the rows first.
        BadValueError: the parts of a payment come to more than the whole.
    """
    for change in changes:
        _save(change)
    require_parts(terms_row(company).deposit_percent, sales_terms(company).progress_percent)
    audit(user=user, company=company, subject="company", act=f"Set up: {part}")
    return company


@writes_once(Company, "set next job number")
def set_numbering(
    *, company: Company, user: User, key: str, sales: RowChange, next_job: int | None
) -> Company:
    """Return the company whose quotes are numbered so, and whose next job has that number.

    ``next_job`` None: numbers go on as they are.

    Raises:
        StaleError: somebody else saved the sales terms first.
        BadValueError: a job has this number, or a higher one.
    """
    _save(sales)
    if next_job is not None:
        _count_from(company, next_job)
    audit(user=user, company=company, subject="company", act="Set up: numbers")
    return company


def first_free_number(company: Company) -> int:
    """Return the lowest number that the next job may have: jobs keep theirs."""
    highest = company.jobs.order_by("-number").values_list("number", flat=True).first()
    return (highest or 0) + 1


def _count_from(company: Company, number: int) -> None:
    counted = Company.objects.select_for_update().get(pk=company.pk)
    least = first_free_number(counted)
    if number < least:
        accepted = f"{least} or more, since jobs have numbers up to {least - 1}"
        raise BadValueError(field="next_job", value=number, accepted=accepted)
    Company.objects.filter(pk=company.pk).update(next_job_number=number)


def _save(change: RowChange) -> None:
    """Write a change to its row; one that isn't kept yet is made."""
    row = change.row
    put_values(row, change.values)
    if row._state.adding:  # noqa: SLF001  public by Django's documentation
        row.version = CREATED
        row.save()
    else:
        save_versioned(row, expected=change.expected, names=tuple(change.values))
