"""How safe the book is just now, for the first page, the page of backups and who watches."""

from __future__ import annotations

from datetime import datetime

from django.conf import settings
from django.utils import timezone

from jobs.domain.backups.retention import MadeBackup
from jobs.domain.backups.standing import BackupStanding, standing_of
from jobs.models import Company, Errand
from jobs.models.work import ErrandState
from jobs.readers.backups.shelf import made_backups

KIND = "make-backup"


def backup_standing(company: Company | None = None) -> BackupStanding:
    """Return the last good backup, its age, and what a person of ``company`` must see to."""
    last = next(iter(made_backups()), None)
    if company is None:
        return standing_of(last, now=timezone.now())
    return standing_of(
        last,
        now=timezone.now(),
        book_since=None if last else _book_since(company),
        failure=_failure(last),
        copy_wanted=settings.BACKUP_COPY_TO,
    )


def last_backup_errand() -> Errand | None:
    """Return the errand that makes, or last made, a backup of the whole book."""
    return Errand.objects.filter(kind=KIND).order_by("-pk").first()


def _failure(last: MadeBackup | None) -> str:
    """Return why the last backup failed; empty where a good one was made since."""
    errand = last_backup_errand()
    if errand is None or errand.state != ErrandState.FAILED or errand.finished_at is None:
        return ""
    return "" if last and last.moment > errand.finished_at else errand.error


def _book_since(company: Company) -> datetime | None:
    """Return since when somebody is in the book of a company."""
    joined: datetime | None = (
        company.people.order_by("date_joined").values_list("date_joined", flat=True).first()
    )
    return joined
