"""What price and draft say of a crew that is penciled in."""

from __future__ import annotations

from estimates.readers.draft.quoted_days import quoted_otherwise
from jobs.clock import today_of
from jobs.http import Context
from jobs.models import Job
from jobs.services.penciled.standing import penciled_standing


def penciled_context(job: Job) -> Context:
    """Return how the penciled crew stands to the price, and a quote that names other days."""
    standing = penciled_standing(job, today_of(job.company))
    return {"penciled": standing, "quoted": quoted_otherwise(standing)}
