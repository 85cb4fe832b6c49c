"""Whether the book is safe: when the last backup was made, and what is wrong with it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from jobs.domain.backups.retention import STALE_AFTER, MadeBackup


@dataclass(frozen=True, kw_only=True, slots=True)
class BackupStanding:
    """The last good backup and its age; ``trouble`` says what somebody must see to, or nothing."""

    last: MadeBackup | None
    age: timedelta | None
    trouble: str = ""

    @property
    def age_words(self) -> str:
        """Return how old the last backup is, in words."""
        return age_words(self.age) if self.age is not None else "none yet"

    @property
    def state(self) -> str:
        """Return one word for who watches the site: good, stale or none."""
        if self.age is None:
            return "none"
        return "stale" if self.age > STALE_AFTER else "good"


def standing_of(
    last: MadeBackup | None,
    *,
    now: datetime,
    book_since: datetime | None = None,
    failure: str = "",
    copy_wanted: str = "",
) -> BackupStanding:
    """Return how safe the book is.

    ``book_since``: since when there is something to lose; ``failure``: why one failed after the
    last good one; ``copy_wanted``: the second folder, where one is set.
    """
    age = now - last.moment if last else None
    trouble = ""
    if failure:
        trouble = f"The last backup failed: {failure}"
    elif age is not None and age > STALE_AFTER:
        trouble = f"The last backup is {age_words(age)} old. Is the worker running?"
    elif last is None and book_since and now - book_since > STALE_AFTER:
        trouble = "No backup was ever made. Is the worker running?"
    elif last and copy_wanted and not last.copied_to:
        trouble = f"The last backup is not in the second folder, {copy_wanted}."
    elif last and last.missing:
        trouble = f"{last.missing} file{'s' * (last.missing != 1)} of the book were gone already."
    return BackupStanding(last=last, age=age, trouble=trouble)


def age_words(age: timedelta) -> str:
    """Return an age in the largest unit of which there are two: minutes, hours, days."""
    minutes = max(0, int(age.total_seconds() // 60))
    for count, unit in ((minutes // 1440, "day"), (minutes // 60, "hour")):
        if count >= 2:
            return f"{count} {unit}s"
    return f"{minutes} minute{'s' * (minutes != 1)}"
