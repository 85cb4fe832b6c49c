"""The path of a job: where it stands, what is missing, what to do next.

Site, Rooms, Floor, Price, Quote, Days, Packet, Log, Review. The steps of time and place are
registered by `jobs.readers.path_steps`, those of money from above, so that imports keep pointing
down. Each step names the rows that it stands on; those of all steps and of all jobs of a page are
fetched in one round trip.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.urls import reverse

from jobs.access import SignedInRequest
from jobs.http import Context
from jobs.models import Job
from jobs.readers.together.round_trip import KindRows, RowKind, rows_of

NAMES = ("Site", "Rooms", "Floor", "Price", "Quote", "Days", "Packet", "Log", "Review")


@dataclass(frozen=True, kw_only=True, slots=True)
class Finding:
    """What is known of one step: done or not, what is missing, and what to do about it.

    ``stopped_by``: what stands against laying, whatever the days say.
    """

    done: bool
    note: str
    todo: str
    stopped_by: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class PathStep:
    """One step as the page shows it."""

    name: str
    url: str
    state: str
    note: str


Look = Callable[[Sequence[Job], KindRows], Mapping[int, Finding]]
"""What finds from its rows where a step of these jobs stands, by the job's pk."""


@dataclass(frozen=True, kw_only=True, slots=True)
class _Step:
    """A step: its address, who sees it, the rows it stands on, how to find where it stands."""

    url_name: str
    office_only: bool
    rows: tuple[RowKind[Any], ...]
    look: Look


_STEPS: dict[str, _Step] = {}


def register(
    name: str,
    *,
    url_name: str,
    office_only: bool,
    look: Look,
    rows: Sequence[RowKind[Any]] = (),
) -> None:
    """Give the path a step. ``url_name`` takes the job's pk. Raises ValueError for an odd name."""
    if name not in NAMES:
        message = f"{name} is no step of a job; accepted: {', '.join(NAMES)}"
        raise ValueError(message)
    _STEPS[name] = _Step(url_name=url_name, office_only=office_only, rows=tuple(rows), look=look)


def path_context(request: SignedInRequest, job: Job, here: str) -> Context:
    """Return ``job``, ``steps`` and ``next_sentence`` for a page that stands at step ``here``.

    ``next_step`` is where the sentence is acted on; None where the page is that step itself.
    """
    steps: list[PathStep] = []
    sentence = ""
    seen = {
        name: step
        for name, step in _STEPS.items()
        if request.user.is_office or not step.office_only
    }
    for name, finding in _looked([job], seen)[job.pk].items():
        past = bool(sentence) or job.closed_at is not None
        state = _state(finding, here=name == here, earlier_open=past)
        if not finding.done and not past:
            sentence = finding.todo
        url = reverse(seen[name].url_name, args=[job.pk])
        steps.append(PathStep(name=name, url=url, state=state, note=finding.note))
    leads_on = next((step for step in steps if step.state == "next"), None)
    return {"job": job, "steps": steps, "next_sentence": sentence, "next_step": leads_on}


def standings(jobs: Sequence[Job]) -> dict[int, str]:
    """Return the first step of each job that is not done, or ``Closed``, by the job's pk."""
    steps = findings([job for job in jobs if job.closed_at is None])
    return {job.pk: standing_of(job, steps.get(job.pk, {})) for job in jobs}


def standing_of(job: Job, steps: Mapping[str, Finding]) -> str:
    """Return the first of a job's steps that is not done, else the last; ``Closed`` if it is."""
    if job.closed_at is not None:
        return "Closed"
    return next((name for name, step in steps.items() if not step.done), NAMES[-1])


def findings(jobs: Sequence[Job], rows: KindRows | None = None) -> dict[int, dict[str, Finding]]:
    """Return what is known of every step of these jobs, by the job's pk and the step's name.

    ``rows``: those of `kinds`, of these jobs and any others, where they are at hand.
    """
    return _looked(jobs, _STEPS, rows)


def kinds() -> Sequence[RowKind[Any]]:
    """Return the kinds of rows that the steps stand on."""
    return _kinds_of(_STEPS)


def _kinds_of(steps: Mapping[str, _Step]) -> Sequence[RowKind[Any]]:
    return tuple(dict.fromkeys(kind for step in steps.values() for kind in step.rows))


def _looked(
    jobs: Sequence[Job], steps: Mapping[str, _Step], rows: KindRows | None = None
) -> dict[int, dict[str, Finding]]:
    """Return what is known of these steps, in their order, from one round trip."""
    if not jobs:
        return {}
    if rows is None:
        rows = rows_of([job.pk for job in jobs], *_kinds_of(steps))
    looked = {name: steps[name].look(jobs, rows) for name in NAMES if name in steps}
    return {job.pk: {name: step[job.pk] for name, step in looked.items()} for job in jobs}


def _state(finding: Finding, *, here: bool, earlier_open: bool) -> str:
    """Return the word for a step's state."""
    if here:
        return "here"
    if finding.done:
        return "done"
    return "later" if earlier_open else "next"
