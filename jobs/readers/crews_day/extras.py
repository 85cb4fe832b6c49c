"""Extra work that is agreed on. Whoever knows of agreements registers, so imports point down."""

from __future__ import annotations

from collections.abc import Callable, Collection

from jobs.models import Job, JobExtra

Agreed = Callable[[Job], Collection[int]]
_AGREED: list[Agreed] = []


def register(agreed: Agreed) -> None:
    """Ask ``agreed`` which extras of a job, by key, were accepted."""
    if agreed not in _AGREED:
        _AGREED.append(agreed)


def agreed_keys(job: Job) -> frozenset[int]:
    """Return the keys of the job's extra work that is agreed on."""
    return frozenset(key for agreed in _AGREED for key in agreed(job))


def agreed_extras(job: Job) -> tuple[JobExtra, ...]:
    """Return the extra work that is agreed on and still wanted."""
    return tuple(job.extras.filter(pk__in=agreed_keys(job), dropped_at__isnull=True))
