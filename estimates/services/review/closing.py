"""Closing a job: its review is frozen. Keyword-only, atomic, audited."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from estimates.domain.review.closed import (
    ClosedContent,
    SpoiledFor,
    TaskNote,
    closed_document,
)
from estimates.models import ClosedReview
from estimates.readers.review.reviewed import reviewed
from estimates.services.passport.editions import hand_over
from jobs.clock import day_of
from jobs.domain.formats import BrokenDocumentError
from jobs.models import Job, LogEntry, User
from jobs.readers.scope import scope_value
from jobs.services.records import audit_job, freeze, next_number


@transaction.atomic
def close_job(*, job: Job, user: User) -> Job:
    """Return ``job``, closed, its review and its passport frozen; one that was stays as it is."""
    if Job.objects.filter(pk=job.pk, closed_at__isnull=True).update(closed_at=timezone.now()):
        audit_job(job=job, user=user, act=f"Closed {job}")
        job.refresh_from_db(fields=["closed_at"])
        freeze_review(job=job, user=user)
        hand_over(job=job, user=user)
    job.refresh_from_db(fields=["closed_at"])
    return job


@transaction.atomic
def reopen_job(*, job: Job, user: User) -> Job:
    """Return ``job``, open again; one that is open already stays as it is.

    The review that was frozen stays in the books; closed anew, the job gets another.
    """
    if Job.objects.filter(pk=job.pk, closed_at__isnull=False).update(closed_at=None):
        job.closed_reviews.filter(reopened_at__isnull=True).update(reopened_at=timezone.now())
        audit_job(job=job, user=user, act=f"Reopened {job}")
    job.refresh_from_db(fields=["closed_at"])
    return job


@transaction.atomic
def freeze_review(*, job: Job, user: User | None) -> ClosedReview | None:
    """Return the review of a closed job, frozen; None where nothing was sold, logged or bought.

    A job that has one keeps it.
    """
    kept = job.closed_reviews.filter(reopened_at__isnull=True).first()
    if kept is not None or job.closed_at is None:
        return kept
    made = reviewed(job)
    if made is None or not made.begun:
        return None
    closed_on = day_of(job.closed_at, job.company)
    content = ClosedContent(
        closed_on=closed_on.isoformat(),
        burdened_rate=made.burdened_rate,
        review=made.review,
        notes=tuple(
            TaskNote(task=task, zone=zone, text=text) for (task, zone), text in made.notes.items()
        ),
        spoiled=tuple(SpoiledFor(reason=reason, planks=count) for reason, count in made.spoiled),
    )
    real = made.review.real
    return ClosedReview.objects.create(
        job=job,
        number=next_number(job.closed_reviews.all()),
        document=freeze(
            company=job.company, kind="review", content=closed_document(content), user=user
        ),
        closed_on=closed_on,
        price=real.price,
        cost=real.labor + real.material,
        contribution=real.contribution,
        quoted=made.review.quoted.contribution,
        days_on_site=real.days_on_site,
        crew=_crew_of(job),
        floor=_floor_of(job),
    )


def freeze_closed_jobs() -> int:
    """Freeze the review of every job that was closed before reviews were kept; return how many.

    A job whose papers can't be read is left as it is: its page says so.
    """
    rows = Job.objects.filter(closed_at__isnull=False, agreed_scope__isnull=False)
    rows = rows.exclude(closed_reviews__reopened_at__isnull=True, closed_reviews__isnull=False)
    count = 0
    for job in rows.select_related("company", "client", "agreed_scope__document"):
        try:
            count += freeze_review(job=job, user=None) is not None
        except BrokenDocumentError:
            continue
    return count


def _crew_of(job: Job) -> str:
    """Return the crew that logged most of a job's hours; empty where nobody did."""
    hours: Counter[str] = Counter()
    for entry in LogEntry.objects.filter(day__job=job).select_related("day__crew"):
        hours[entry.day.crew.name] += int(entry.hours * 100)
    return max(hours, key=lambda name: hours[name]) if hours else ""


def _floor_of(job: Job) -> str:
    """Return what most of a job's floor is made of; empty where that is not known any more."""
    kinds: dict[str, Decimal] = {}
    zones = {zone.name: zone for zone in job.zones.select_related("product")}
    for zone in scope_value(job.agreed_scope).zones if job.agreed_scope else ():
        if zone.name in zones:
            kind = zones[zone.name].product.get_core_display()
            kinds[kind] = kinds.get(kind, Decimal(0)) + zone.area_ft2
    return max(kinds, key=lambda kind: kinds[kind]) if kinds else ""
