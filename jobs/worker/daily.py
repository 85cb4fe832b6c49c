"""Work that the worker asks of itself once a day, in the hour that the settings name.

    daily("make-backup")

A worker that was off at that hour asks as soon as it runs; what failed is asked for again an hour
later. Several workers ask for one errand.
"""

from __future__ import annotations

from datetime import datetime, timedelta

from django.conf import settings
from django.utils import timezone

from jobs.clock import now_of
from jobs.models.company import Company
from jobs.models.work import ACTIVE, Errand, ErrandState
from jobs.worker.errands import ask

SUBJECT = "book"
AGAIN_AFTER = timedelta(hours=1)

_kinds: list[str] = []


def daily(kind: str) -> None:
    """Let errands of this kind be asked for every day, for the whole book."""
    if kind not in _kinds:
        _kinds.append(kind)


def ask_for_daily_work() -> list[Errand]:
    """Return the errands that are due and were asked for now; none where there is no book yet."""
    if settings.BACKUP_HOUR is None:
        return []
    company = Company.objects.order_by("pk").first()
    if company is None:
        return []
    now = now_of(company)
    hour = now.replace(hour=settings.BACKUP_HOUR, minute=0, second=0, microsecond=0)
    came_last = hour if hour <= now else hour - timedelta(days=1)
    kinds = [kind for kind in _kinds if _is_due(kind, came_last)]
    return [ask(company=company, kind=kind, subject=SUBJECT, payload={}) for kind in kinds]


def _is_due(kind: str, came_last: datetime) -> bool:
    """Whether no errand of a kind was begun since its hour came last, or the last one failed."""
    last = Errand.objects.filter(kind=kind, subject=SUBJECT).order_by("-pk").first()
    if last is None:
        return True
    if last.state in ACTIVE:
        return False
    if last.state == ErrandState.FAILED and last.finished_at:
        return timezone.now() - last.finished_at > AGAIN_AFTER
    return last.created_at < came_last
