"""Agreed jobs that a hold stands against: before the order, or on a day that is near."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from datetime import date

from django.urls import reverse

from jobs.clock import today_of
from jobs.domain.site.facts import Caution
from jobs.domain.site.moisture_gates import BEFORE_CARRY_IN, BY_READING
from jobs.models import Company, Job, WorkDay
from jobs.readers import today
from jobs.readers.board import holds
from jobs.readers.board.holds import open_holds_by_job
from jobs.readers.days import open_holds_of
from jobs.readers.today import JOBS_UNDER_WAY, Waiting
from jobs.readers.together import of_jobs
from jobs.readers.together.round_trip import KindRows


def register() -> None:
    """Let the first page look for jobs that are held."""
    today.register(_held, under_way=[JOBS_UNDER_WAY, of_jobs.DAYS, *holds.KINDS])


def order_holds(job: Job) -> list[Caution]:
    """Return the moisture holds before the order of a job: what a reading opens, still closed."""
    return [hold for hold in open_holds_of(job).values() if _is_before_order(hold)]


def _is_before_order(hold: Caution) -> bool:
    return hold.code in BY_READING and bool(set(hold.blocks) & set(BEFORE_CARRY_IN))


def _held(company: Company, rows: KindRows) -> Iterator[Waiting]:
    """Yield the agreed jobs that are held before the order, and those held on a near day."""
    agreed = {job.pk: job for job in rows[JOBS_UNDER_WAY] if job.agreed_scope_id is not None}
    near = _near_tasks(rows[of_jobs.DAYS], today_of(company))
    for key, of_job in open_holds_by_job(list(agreed), rows).items():
        before_order = next((hold for hold in of_job.values() if _is_before_order(hold)), None)
        if before_order is not None:
            yield _line(agreed[key], before_order, "before the order of", "moisture")
        for hold in of_job.values():
            if not _is_before_order(hold) and near[key] & set(hold.blocks):
                yield _line(agreed[key], hold, "on", "job")


def _near_tasks(days: Iterable[WorkDay], on: date) -> dict[int, set[str]]:
    """Return the codes of the tasks of each job's near days, by the job's key."""
    near: dict[int, set[str]] = defaultdict(set)
    for day in days:
        if 0 <= (day.date - on).days < today.NEAR_DAYS:
            near[day.job_id] |= {str(entry["task"]) for entry in day.entries}
    return near


def _line(job: Job, hold: Caution, where: str, page: str) -> Waiting:
    made = job.agreed_scope.made_at if job.agreed_scope is not None else job.created_at
    return Waiting(
        text=f"HOLD {where} job {job.number}, {job.title}: {hold.title}. Clears it: {hold.clears}",
        url=reverse(page, args=[job.pk]),
        at=made,
        kind="moisture" if page == "moisture" else "hold",
        stops=job.pk,
    )
