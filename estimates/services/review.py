"""Closing a job and learning from it: keyword-only, atomic, audited."""

from __future__ import annotations

from dataclasses import dataclass

from django.db import transaction
from django.utils import timezone

from estimates.readers.review import closed_jobs
from jobs.domain.scope.learning import RateChange, rate_changes
from jobs.models import Company, Job, User
from jobs.readers.scope import company_rates
from jobs.services.rates import take_rates
from jobs.services.records import audit_job


@transaction.atomic
def close_job(*, job: Job, user: User) -> Job:
    """Return ``job``, closed; one that is closed already stays as it is."""
    if Job.objects.filter(pk=job.pk, closed_at__isnull=True).update(closed_at=timezone.now()):
        audit_job(job=job, user=user, act=f"Closed {job}")
    job.refresh_from_db(fields=["closed_at"])
    return job


@transaction.atomic
def reopen_job(*, job: Job, user: User) -> Job:
    """Return ``job``, open again; one that is open already stays as it is."""
    if Job.objects.filter(pk=job.pk, closed_at__isnull=False).update(closed_at=None):
        audit_job(job=job, user=user, act=f"Reopened {job}")
    job.refresh_from_db(fields=["closed_at"])
    return job


@dataclass(frozen=True, kw_only=True, slots=True)
class Learned:
    """Rates that the logs of closed jobs have otherwise; the jobs left out, as unreadable."""

    changes: tuple[RateChange, ...]
    left_out: tuple[str, ...]


def learnable(company: Company) -> Learned:
    """Return the rates that the logs of all closed jobs have otherwise than they count now."""
    closed = closed_jobs(company)
    changes = rate_changes(company_rates(company), closed.done)
    return Learned(changes=changes, left_out=closed.left_out)


@transaction.atomic
def take_learned_rates(*, company: Company, user: User) -> int:
    """Let the learned rates count from now on; return how many changed. Twice changes nothing."""
    changes = learnable(company).changes
    return take_rates(company=company, user=user, rates=[change.after for change in changes])
