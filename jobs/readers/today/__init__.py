"""What waits on the office: a line each, newest first, for its first page.

Stories above register what they look for, so that imports keep pointing down. Each names the rows
that it looks at, of the company or of its jobs under way; all of them come in one round trip.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db.models import Q, QuerySet

from jobs.models import Company, Job, WorkDay
from jobs.readers import path
from jobs.readers.path import Finding
from jobs.readers.together.round_trip import KindRows, RowKind

MOST_LINES = 50


@dataclass(frozen=True, kw_only=True, slots=True)
class Waiting:
    """One line: what waits, since when, where it is seen to, and what kind it is of.

    ``noted_url`` takes the form that puts the line aside; empty where it goes only once it is done.
    """

    text: str
    url: str
    at: datetime
    kind: str
    noted_url: str = ""


Look = Callable[[Company, KindRows], Iterable[Waiting]]
"""What finds lines of one subject for a company."""

JOBS_UNDER_WAY = RowKind(
    of=lambda jobs: Job.objects.filter(pk__in=jobs).select_related("client", "agreed_scope")
)
"""The jobs under way themselves."""

MOST_KEYS = 1000
"""So many keys a statement may name; of more jobs it says which they are."""


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

    ``of_company``: the rows that it looks at for a company; ``under_way``: those of its jobs.
    """
    kinds = {"of_company": tuple(of_company), "under_way": tuple(under_way)}
    _subjects[look] = _Subject(look=look, **kinds)


def waiting_for(company: Company) -> list[Waiting]:
    """Return what waits on the company's office, newest first."""
    return first_page(company, ())[0]


def first_page(
    company: Company, jobs: Sequence[Job]
) -> tuple[list[Waiting], dict[int, dict[str, Finding]]]:
    """Return what waits on the company's office, and what is known of every step of some jobs.

    Both stand on the same rows, so both come in one round trip.
    """
    under_way, of_page = _keys(jobs_under_way(company)), [job.pk for job in jobs]
    all_of_them = list({*under_way, *of_page}) if isinstance(under_way, list) else under_way
    of_jobs = {kind for one in _subjects.values() for kind in one.under_way}
    wanted = {kind: kind.of(company) for one in _subjects.values() for kind in one.of_company}
    wanted |= {kind: kind.of(all_of_them) for kind in of_jobs - {JOBS_UNDER_WAY}}
    wanted |= {kind: kind.of(of_page) for kind in path.kinds() if kind not in of_jobs}
    rows = KindRows(wanted | {JOBS_UNDER_WAY: JOBS_UNDER_WAY.of(under_way)})
    lines = [line for one in _subjects.values() for line in one.look(company, rows)]
    newest = sorted(lines, key=lambda line: line.at, reverse=True)[:MOST_LINES]
    return newest, path.findings(jobs, rows if isinstance(under_way, list) else None)


def _keys(jobs: QuerySet[Job]) -> list[int] | QuerySet[Job]:
    """Return the keys of these jobs, or, of very many, themselves."""
    keys = list(jobs.values_list("pk", flat=True)[: MOST_KEYS + 1])
    return keys if len(keys) <= MOST_KEYS else jobs


def jobs_under_way(company: Company) -> QuerySet[Job]:
    """Return the open jobs of a company that are agreed on or on days."""
    laid = WorkDay.objects.filter(job__company=company, job__closed_at=None)
    under_way = Q(agreed_scope__isnull=False) | Q(pk__in=laid.values("job"))
    return Job.objects.filter(under_way, company=company, closed_at=None, archived_at=None)
