"""Agreed jobs whose material nobody orders yet, since nobody has read the subfloor's moisture."""

from __future__ import annotations

from collections.abc import Iterator

from django.urls import reverse

from jobs.domain.site.facts import Caution
from jobs.domain.site.moisture_gates import BEFORE_CARRY_IN, BY_READING
from jobs.models import Company, Job
from jobs.readers import today
from jobs.readers.board import holds
from jobs.readers.board.holds import open_holds_by_job
from jobs.readers.days import open_holds_of
from jobs.readers.today import JOBS_UNDER_WAY, Waiting
from jobs.readers.together.round_trip import KindRows


def register() -> None:
    """Let the first page look for jobs that wait for a reading."""
    today.register(_unread, under_way=[JOBS_UNDER_WAY, *holds.KINDS])


def order_holds(job: Job) -> list[Caution]:
    """Return the moisture holds before the order of a job: what a reading opens, still closed."""
    return [hold for hold in open_holds_of(job).values() if _is_before_order(hold)]


def _is_before_order(hold: Caution) -> bool:
    return hold.code in BY_READING and bool(set(hold.blocks) & set(BEFORE_CARRY_IN))


def _unread(_: Company, rows: KindRows) -> Iterator[Waiting]:
    """Yield the agreed jobs that are held before the order."""
    agreed = {job.pk: job for job in rows[JOBS_UNDER_WAY] if job.agreed_scope_id is not None}
    for key, of_job in open_holds_by_job(list(agreed), rows).items():
        job = agreed[key]
        held = next((hold for hold in of_job.values() if _is_before_order(hold)), None)
        if held is not None and job.agreed_scope is not None:
            yield Waiting(
                text=f"HOLD before the order of job {job.number}, {job.title}: {held.title}",
                url=reverse("moisture", args=[job.pk]),
                at=job.agreed_scope.made_at,
                kind="moisture",
            )
