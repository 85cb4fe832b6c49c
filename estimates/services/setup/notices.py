"""Notices that a state asks for: added, changed, removed; printed as they are typed."""

from __future__ import annotations

from django.db import transaction
from django.db.models import Max

from estimates.models import StateNotice
from jobs.domain.checks import BadValueError
from jobs.models import Company, User
from jobs.models.base import Values
from jobs.services.records import audit, put_values, save_versioned, writes_once

NOTICE_FIELDS = ("title", "text")
MOST_NOTICES = 12


@writes_once(StateNotice, "add notice")
def add_notice(*, company: Company, user: User, key: str, values: Values) -> StateNotice:
    """Return the new notice, printed behind those that are there.

    Raises BadValueError where there are as many as a quote can carry.
    """
    Company.objects.select_for_update().get(pk=company.pk)
    rows = company.state_notices
    if rows.count() >= MOST_NOTICES:
        accepted = f"up to {MOST_NOTICES} notices"
        raise BadValueError(field="title", value="one more", accepted=accepted)
    last = rows.aggregate(last=Max("place"))["last"] or 0
    notice = StateNotice.objects.create(company=company, place=last + 1, **values)
    audit(user=user, company=company, subject="company", act=f"Added the notice {notice}")
    return notice


@writes_once(StateNotice, "change notice")
def change_notice(
    *, notice: StateNotice, user: User, key: str, expected: int, values: Values
) -> StateNotice:
    """Return the changed notice. Raises StaleError where somebody else saved first."""
    put_values(notice, values)
    save_versioned(notice, expected=expected, names=NOTICE_FIELDS)
    act = f"Changed the notice {notice}"
    audit(user=user, company=notice.company, subject="company", act=act)
    return notice


@transaction.atomic
def remove_notice(*, notice: StateNotice, user: User) -> None:
    """Remove a notice; the audit line keeps its title, issued quotes keep it whole."""
    act = f"Removed the notice {notice}"
    audit(user=user, company=notice.company, subject="company", act=act)
    notice.delete()
