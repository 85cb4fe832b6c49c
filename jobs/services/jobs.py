"""Jobs written into the book."""

from __future__ import annotations

from django.db.models import F

from jobs.models import Company, Job, SiteFacts, User
from jobs.models.base import Values
from jobs.services.records import audit_job, put_values, save_versioned, writes_once

JOB_FIELDS = ("client", "title", "address", "units")


@writes_once(Job, "add job")
def add_job(*, company: Company, user: User, key: str, values: Values) -> Job:
    """Return the new job with the company's next number and an empty sheet of site facts."""
    counted = Company.objects.filter(pk=company.pk)
    counted.update(next_job_number=F("next_job_number") + 1)
    number = counted.values_list("next_job_number", flat=True)[0] - 1
    job = Job.objects.create(company=company, number=number, **values)
    SiteFacts.objects.create(job=job)
    audit_job(job=job, user=user, act=f"Opened {job}")
    return job


@writes_once(Job, "change job")
def change_job(*, job: Job, user: User, key: str, expected: int, values: Values) -> Job:
    """Return the changed job. Raises StaleError where somebody else saved first."""
    put_values(job, values)
    save_versioned(job, expected=expected, names=JOB_FIELDS)
    audit_job(job=job, user=user, act=f"Changed {job}")
    return job
