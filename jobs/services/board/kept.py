"""Conflicts of the crew board: kept with a reason, or taken up again."""

from __future__ import annotations

from django.db import transaction

from jobs.domain.board.conflicts import Conflict
from jobs.domain.checks import BadValueError
from jobs.models import Company, KeptConflict, User
from jobs.services.records import audit


@transaction.atomic
def keep_conflict(*, company: Company, user: User, conflict: Conflict, reason: str) -> KeptConflict:
    """Return the row that keeps a conflict. Sent twice, the first reason stands.

    Raises:
        BadValueError: no reason.
    """
    if not reason.strip():
        accepted = "why the conflict stays, in a few words"
        raise BadValueError(field="reason", value="nothing", accepted=accepted)
    values = {"text": conflict.text[:400], "reason": reason.strip(), "user": user}
    kept, is_new = KeptConflict.objects.get_or_create(
        company=company, key=conflict.key, defaults={**values, "who": user.name}
    )
    if is_new:
        act = f"Kept a conflict: {conflict.text} Why: {kept.reason}"
        audit(user=user, company=company, subject="board", act=act)
    return kept


@transaction.atomic
def take_up_conflict(*, kept: KeptConflict, user: User) -> None:
    """Let a conflict that was kept stand as open again."""
    act = f"No longer keeps a conflict: {kept.text}"
    audit(user=user, company=kept.company, subject="board", act=act)
    kept.delete()
