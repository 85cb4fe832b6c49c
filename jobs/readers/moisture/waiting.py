"""Agreed jobs whose material nobody orders yet, since nobody has read the subfloor's moisture."""

from __future__ import annotations

from collections.abc import Iterator

from django.urls import reverse

from jobs.domain.site.facts import Caution
from jobs.domain.site.moisture_gates import BEFORE_CARRY_IN, BY_READING
from jobs.models import Company, Job
from jobs.readers import today
from jobs.readers.board.holds import open_holds_by_job
from jobs.readers.days import open_holds_of
from jobs.readers.today import Waiting


def register() -> None:
    """Let the first page look for jobs that wait for a reading."""
    today.register(_unread)


def order_holds(job: Job) -> list[Caution]:
    """Return the moisture holds before the order of a job: what a reading opens, still closed."""
    return [hold for hold in open_holds_of(job).values() if _is_before_order(hold)]


def _is_before_order(hold: Caution) -> bool:
    return hold.code in BY_READING and bool(set(hold.blocks) & set(BEFORE_CARRY_IN))


def _unread(company: Company) -> Iterator[Waiting]:
    """Yield the agreed jobs that are held before the order."""
    jobs = Job.objects.filter(company=company, closed_at=None, archived_at=None)
    with_scope = jobs.filter(agreed_scope__isnull=False).select_related("agreed_scope")
    agreed = {job.pk: job for job in with_scope}
    holds = open_holds_by_job(list(agreed))
    for key, of_job in holds.items():
        job = agreed[key]
        held = next((hold for hold in of_job.values() if _is_before_order(hold)), None)
        if held is not None and job.agreed_scope is not None:
            yield Waiting(
                text=f"HOLD before the order of job {job.number}, {job.title}: {held.title}",
                url=reverse("moisture", args=[job.pk]),
                at=job.agreed_scope.made_at,
                kind="moisture",
            )
