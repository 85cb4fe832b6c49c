"""Jobs that are not on days yet, and what holds them."""

from __future__ import annotations

from dataclasses import dataclass

from django.db.models import Q

from jobs.domain.site.facts import Caution
from jobs.models import Company, Job
from jobs.readers.board.holds import open_holds_by_job


@dataclass(frozen=True, kw_only=True, slots=True)
class WaitingJob:
    """A job without a day: whether it is agreed on, and its open holds."""

    job: Job
    is_agreed: bool
    holds: tuple[Caution, ...]


def waiting_jobs(company: Company) -> list[WaitingJob]:
    """Return the jobs without a day: those agreed on, and held ones that were priced."""
    jobs = company.jobs.filter(closed_at=None, archived_at=None, days__isnull=True)
    jobs = jobs.filter(Q(agreed_scope__isnull=False) | Q(scopes__isnull=False)).distinct()
    listed = list(jobs.order_by("number"))
    holds = open_holds_by_job([job.pk for job in listed])
    waiting = [
        WaitingJob(
            job=job,
            is_agreed=job.agreed_scope_id is not None,
            holds=tuple(holds.get(job.pk, {}).values()),
        )
        for job in listed
    ]
    return [one for one in waiting if one.is_agreed or one.holds]
