"""A floor passport as it is there, and an agreed floor whose rows are known."""

from __future__ import annotations

from estimates.models import FloorPassport
from estimates.services.passport.editions import tell_passport
from jobs.domain.link_token import token_hash
from jobs.models import Job


def a_passport_of(job: Job) -> FloorPassport:
    """Return an open floor passport of a job, whatever is agreed on."""
    row = FloorPassport.objects.create(job=job, token_hash=f"of job {job.pk}")
    row.token_hash = token_hash(row.token)
    row.save()
    tell_passport(passport=row, user=None)
    return row
