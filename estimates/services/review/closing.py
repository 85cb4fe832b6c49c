"""Closing a job: keyword-only, atomic, audited."""

from __future__ import annotations

from django.db import transaction
from django.utils import timezone

from jobs.models import Job, User
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
