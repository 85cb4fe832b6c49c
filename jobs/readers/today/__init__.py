"""What waits on the office: a line each, the most urgent first, for its first page.

What stands against a day of the next seven comes before all else, the soonest day first; then the
newest. A hold for tomorrow is read before a notice of this morning.

Stories above register what they look for, so that imports keep pointing down. Each names the rows
that it looks at, of the company or of its jobs under way; all of them come in one round trip.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import Any

from django.db.models import Q, QuerySet

from jobs.clock import today_of
from jobs.models import Company, Job, WorkDay
from jobs.readers import path
from jobs.readers.path import Finding
from jobs.readers.together import of_jobs
from jobs.readers.together.round_trip import KindRows, RowKind

MOST_LINES = 50
NEAR_DAYS = 7
"""So many days from today are near: what stands against them is seen to first."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Waiting:
    """One line: what waits, since when, where it is seen to, and what kind it is of.

    ``noted_url`` takes the form that puts the line aside; empty where it goes only once it is done.
    ``stops``: the key of the job whose next day it stands against; ``before``: that day, where it
    is near.
    """

    text: str
    url: str
    at: datetime
    kind: str
    noted_url: str = ""
    stops: int | None = None
    before: date | None = None


Look = Callable[[Company, KindRows], Iterable[Waiting]]
"""What finds lines of one subject for a company."""

JOBS_UNDER_WAY = RowKind(
    of=lambda jobs: Job.objects.filter(pk__in=jobs).select_related("client", "agreed_scope")
)
"""The jobs under way themselves."""


@dataclass(frozen=True, kw_only=True, slots=True)
class _Subject:
    look: Look
    of_company: tuple[RowKind[Any], ...]
    under_way: tuple[RowKind[Any], ...]


_subjects: dict[Look, _Subject] = {}


def register(
    look: Look, *, of_company: Iterable[RowKind[Any]] = (), under_way: Iterable[RowKind[Any]] = ()
) -> None:
    """Let the first page look for one more subject.

    ``of_company``: the rows that it looks at, by the key of a company; ``under_way``: those of its
    jobs.
    """
    kinds = {"of_company": tuple(of_company), "under_way": tuple(under_way)}
    _subjects[look] = _Subject(look=look, **kinds)


def waiting_for(company: Company) -> list[Waiting]:
    """Return what waits on the company's office, the most urgent first."""
    return first_page(company, ())[0]


def first_page(
    company: Company, jobs: Sequence[Job]
) -> tuple[list[Waiting], dict[int, dict[str, Finding]]]:
    """Return what waits on the company's office, and what is known of every step of some jobs.

    Both stand on the same rows, so both come in one round trip.
    """
    under_way = list(jobs_under_way(company).values_list("pk", flat=True))
    of_page = [job.pk for job in jobs]
    all_of_them = list({*under_way, *of_page})
    under_way_kinds = {kind for one in _subjects.values() for kind in one.under_way}
    under_way_kinds |= {of_jobs.DAYS}
    wanted = {kind: [company.pk] for one in _subjects.values() for kind in one.of_company}
    wanted |= dict.fromkeys(path.kinds(), of_page) | dict.fromkeys(under_way_kinds, all_of_them)
    rows = KindRows(wanted | {JOBS_UNDER_WAY: under_way})
    lines = [line for one in _subjects.values() for line in one.look(company, rows)]
    today = today_of(company)
    urgent = by_urgency(lines, _next_days(rows[of_jobs.DAYS], today), today)[:MOST_LINES]
    return urgent, path.findings(jobs, rows)


def by_urgency(
    lines: Iterable[Waiting], next_days: Mapping[int, date], today: date
) -> list[Waiting]:
    """Return lines with the near day that each stands against, those first, by day; then newest.

    ``next_days``: the next day of each job that has one.
    """
    until = today + timedelta(days=NEAR_DAYS)
    near = {job: day for job, day in next_days.items() if day < until}
    known = [replace(line, before=near.get(line.stops or 0)) for line in lines]
    newest = sorted(known, key=lambda line: line.at, reverse=True)
    return sorted(newest, key=lambda line: line.before or date.max)


def _next_days(days: Iterable[WorkDay], today: date) -> dict[int, date]:
    """Return the first day from today on of each job that has one."""
    ahead: dict[int, date] = {}
    for day in days:
        if day.date >= today:
            ahead[day.job_id] = min(day.date, ahead.get(day.job_id, day.date))
    return ahead


def jobs_under_way(company: Company) -> QuerySet[Job]:
    """Return the open jobs of a company that are agreed on or on days."""
    laid = WorkDay.objects.filter(job__company=company, job__closed_at=None)
    under_way = Q(agreed_scope__isnull=False) | Q(pk__in=laid.values("job"))
    return Job.objects.filter(under_way, company=company, closed_at=None, archived_at=None)
