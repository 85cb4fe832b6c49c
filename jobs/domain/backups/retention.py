"""Which backups are kept: every day of two weeks, every week of two months, every month of a year.

How long is common practice, no source; a company that needs longer copies archives elsewhere.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

DAYS, WEEKS, MONTHS = 14, 8, 12
OTHERS = 5
STALE_AFTER = timedelta(hours=48)
"""A daily backup may fail once before somebody is troubled; then it is late."""


class BackupKind(StrEnum):
    """Why a backup was made."""

    DAILY = "daily"
    BY_HAND = "by-hand"
    BEFORE_MIGRATION = "before-migration"
    BEFORE_RESTORE = "before-restore"


@dataclass(frozen=True, kw_only=True, slots=True)
class MadeBackup:
    """An archive that was finished and checked, as the note beside it says."""

    name: str
    kind: BackupKind
    moment: datetime
    size: int
    sha256: str
    rows: int
    tables: int
    files: int
    missing: int
    version: str
    encrypted: bool
    copied_to: str = ""


def outlived(backups: Iterable[MadeBackup]) -> list[MadeBackup]:
    """Return the backups that need not be kept any longer; never the newest of a kind.

    Of the daily ones the last of each day, week and month is kept, for so many of them as there
    are backups of; of every other kind the last five. Days are those of UTC: a folder belongs to no
    company.
    """
    newest_first = sorted(backups, key=lambda one: (one.moment, one.name), reverse=True)
    kept: set[str] = set()
    daily = [one for one in newest_first if one.kind == BackupKind.DAILY]
    for form, most in (("%Y-%m-%d", DAYS), ("%G-%V", WEEKS), ("%Y-%m", MONTHS)):
        firsts: dict[str, str] = {}
        for one in daily:
            firsts.setdefault(one.moment.strftime(form), one.name)
        kept.update(list(firsts.values())[:most])
    for kind in BackupKind:
        if kind != BackupKind.DAILY:
            kept.update([one.name for one in newest_first if one.kind == kind][:OTHERS])
    return [one for one in newest_first if one.name not in kept]
