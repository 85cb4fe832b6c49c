"""Jobs written into the book."""

from __future__ import annotations

from typing import Any

from django.db.models import F

from jobs.models import Company, Job, SiteFacts, User
from jobs.services.records import audit, save_versioned, write_once

JOB_FIELDS = ("client", "title", "address", "units")


def add_job(*, company: Company, user: User, key: str, values: dict[str, Any]) -> Job:
    """Return the new job with the company's next number and an empty sheet of site facts."""

    def write() -> Job:
        counted = Company.objects.filter(pk=company.pk)
        counted.update(next_job_number=F("next_job_number") + 1)
        number = counted.values_list("next_job_number", flat=True)[0] - 1
        job = Job.objects.create(company=company, number=number, **values)
        SiteFacts.objects.create(job=job)
        audit(user=user, company=company, subject=f"job {job.pk}", act=f"Opened {job}")
        return job

    return write_once(
        company=company, key=key, action="add job", rows=company.jobs.all(), write=write
    )


def change_job(*, job: Job, user: User, key: str, expected: int) -> Job:
    """Save an edited job. Raises StaleError where somebody else saved first."""
    company = job.company

    def write() -> Job:
        save_versioned(job, expected=expected, names=JOB_FIELDS)
        audit(user=user, company=company, subject=f"job {job.pk}", act=f"Changed {job}")
        return job

    return write_once(
        company=company, key=key, action="change job", rows=company.jobs.all(), write=write
    )
