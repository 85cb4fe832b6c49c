"""The frozen reviews of closed jobs: the one reader of their documents."""

from __future__ import annotations

from estimates.domain.review.closed import CLOSED_REVIEW, ClosedContent, closed_from
from estimates.models import ClosedReview
from estimates.readers.review.reviewed import Reviewed, reviewed
from jobs.models import Job
from jobs.readers.documents import opened


def stored_review(row: ClosedReview) -> ClosedContent:
    """Return what a frozen review says. Raises BrokenDocumentError where it can't be read."""
    return opened(row.document, CLOSED_REVIEW, closed_from)


def closed_review_of(job: Job) -> ClosedReview | None:
    """Return the frozen review that counts; None while a job is open, or closed without one."""
    if job.closed_at is None:
        return None
    rows = job.closed_reviews.filter(reopened_at__isnull=True)
    return rows.select_related("document").first()


def shown_review(job: Job) -> Reviewed | None:
    """Return the review of a job: as it was frozen once it is closed, else as it stands."""
    row = closed_review_of(job)
    if row is None:
        return reviewed(job)
    content = stored_review(row)
    return Reviewed(
        review=content.review,
        notes={(note.task, note.zone): note.text for note in content.notes},
        spoiled=tuple((each.reason, each.planks) for each in content.spoiled),
        burdened_rate=content.burdened_rate,
        closed_on=content.closed_on,
    )
