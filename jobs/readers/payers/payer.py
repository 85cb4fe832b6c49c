"""Who pays for a job, read from its row."""

from __future__ import annotations

from jobs.models import Job, JobPayer


def payer_row(job: Job) -> JobPayer:
    """Return who pays for a job; an unsaved row where nobody said anything: its client."""
    rows = JobPayer.objects.filter(job=job).select_related("payer")
    return rows.first() or JobPayer(job=job)
