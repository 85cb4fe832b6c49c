"""Jobs that are not on days yet, and what holds them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.db.models import Q

from jobs.domain.board.conflicts import Conflict
from jobs.domain.site.facts import Caution
from jobs.models import Company, Job
from jobs.readers.board.holds import open_holds_by_job
from jobs.readers.penciled.rows import out_of_date_words, penciled_in, penciled_words


@dataclass(frozen=True, kw_only=True, slots=True)
class WaitingJob:
    """A job without a day: whether it is agreed on, its open holds, who is penciled in for it.

    `out_of_date`: in what the days that are priced are not those of the penciled crew. `clashes`:
    what its penciled days would be in conflict with.
    """

    job: Job
    is_agreed: bool
    holds: tuple[Caution, ...]
    penciled: str = ""
    out_of_date: tuple[str, ...] = ()
    clashes: tuple[str, ...] = ()


def waiting_jobs(
    company: Company, clashes: Mapping[int, Sequence[Conflict]] | None = None
) -> list[WaitingJob]:
    """Return the jobs without a day: those agreed on or penciled in, and held ones once priced.

    ``clashes``: by job the conflicts that its penciled days would make.
    """
    jobs = company.jobs.filter(closed_at=None, archived_at=None, days__isnull=True)
    priced = Q(agreed_scope__isnull=False) | Q(scopes__isnull=False) | Q(penciled__isnull=False)
    jobs = jobs.filter(priced).distinct()
    listed = list(jobs.order_by("number"))
    holds = open_holds_by_job([job.pk for job in listed])
    penciled = {row.job_id: row for row in penciled_in(company)}
    waiting = [
        WaitingJob(
            job=job,
            is_agreed=job.agreed_scope_id is not None,
            holds=tuple(holds.get(job.pk, {}).values()),
            penciled=penciled_words(penciled[job.pk]) if job.pk in penciled else "",
            out_of_date=tuple(out_of_date_words(penciled[job.pk])) if job.pk in penciled else (),
            clashes=tuple(one.text for one in (clashes or {}).get(job.pk, ())),
        )
        for job in listed
    ]
    return [one for one in waiting if one.is_agreed or one.holds or one.penciled]
