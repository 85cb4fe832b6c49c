"""Backups in the worker: asked for once, made there, with their progress."""

from __future__ import annotations

from collections.abc import Mapping

from jobs.domain.backups.retention import BackupKind
from jobs.models import Company, Errand, User
from jobs.readers.backups.standing import KIND
from jobs.services.backups.making import Tell, make_backup
from jobs.services.records import audit
from jobs.worker.daily import SUBJECT
from jobs.worker.errands import ask


def ask_for_backup(*, company: Company, user: User) -> Errand:
    """Return the errand that makes a backup now; asked twice at once, it is one errand."""
    errand = ask(
        company=company,
        kind=KIND,
        subject=SUBJECT,
        payload={"kind": BackupKind.BY_HAND.value},
        user=user,
    )
    audit(user=user, company=company, subject="book", act="Asked for a backup")
    return errand


def carry_out(payload: Mapping[str, object], *, tell: Tell) -> dict[str, object]:
    """Make the backup that was asked for; return its name.

    Raises ValueError with a sentence where it can't be made.
    """
    kind = BackupKind(str(payload.get("kind", BackupKind.DAILY.value)))
    try:
        backup = make_backup(kind=kind, tell=tell)
    except OSError as trouble:
        where = f" ({trouble.filename})" if trouble.filename else ""
        message = f"It can't be written: {trouble.strerror}{where}. Make room, or mend the folder."
        raise ValueError(message) from trouble
    return {"name": backup.name}
