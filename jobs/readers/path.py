"""The path of a job: where it stands, what is missing, what to do next.

Site, Rooms, Floor, Price, Quote, Days, Packet, Log, Review. The steps of time and place are
registered by `jobs.readers.path_steps`, those of money from above, so that imports keep pointing
down. A step is looked at for all jobs of a page at once, in as many queries as for one.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from django.urls import reverse

from jobs.access import SignedInRequest
from jobs.http import Context
from jobs.models import Job

NAMES = ("Site", "Rooms", "Floor", "Price", "Quote", "Days", "Packet", "Log", "Review")


@dataclass(frozen=True, kw_only=True, slots=True)
class Finding:
    """What is known of one step: done or not, what is missing, and what to do about it."""

    done: bool
    note: str
    todo: str


@dataclass(frozen=True, kw_only=True, slots=True)
class PathStep:
    """One step as the page shows it."""

    name: str
    url: str
    state: str
    note: str


Look = Callable[[Sequence[Job]], Mapping[int, Finding]]
"""What finds where a step of these jobs stands, by the job's pk."""


@dataclass(frozen=True, kw_only=True, slots=True)
class _Kind:
    """A step: its address, who sees it, how to find where it stands."""

    url_name: str
    office_only: bool
    look: Look


_KINDS: dict[str, _Kind] = {}


def register(name: str, *, url_name: str, office_only: bool, look: Look) -> None:
    """Give the path a step. ``url_name`` takes the job's pk. Raises ValueError for an odd name."""
    if name not in NAMES:
        message = f"{name} is no step of a job; accepted: {', '.join(NAMES)}"
        raise ValueError(message)
    _KINDS[name] = _Kind(url_name=url_name, office_only=office_only, look=look)


def path_context(request: SignedInRequest, job: Job, here: str) -> Context:
    """Return ``job``, ``steps`` and ``next_sentence`` for a page that stands at step ``here``."""
    steps: list[PathStep] = []
    sentence = ""
    for name in NAMES:
        kind = _KINDS.get(name)
        if kind is None or (kind.office_only and not request.user.is_office):
            continue
        finding = kind.look([job])[job.pk]
        past = bool(sentence) or job.closed_at is not None
        state = _state(finding, here=name == here, earlier_open=past)
        if not finding.done and not past:
            sentence = finding.todo
        url = reverse(kind.url_name, args=[job.pk])
        steps.append(PathStep(name=name, url=url, state=state, note=finding.note))
    return {"job": job, "steps": steps, "next_sentence": sentence}


def standings(jobs: Sequence[Job]) -> dict[int, str]:
    """Return the first step of each job that is not done, or ``Closed``, by the job's pk."""
    steps = findings(jobs)
    return {job.pk: "Closed" if job.closed_at else _first_open(steps[job.pk]) for job in jobs}


def findings(jobs: Sequence[Job]) -> dict[int, dict[str, Finding]]:
    """Return what is known of every step of these jobs, by the job's pk and the step's name."""
    looked = {name: _KINDS[name].look(jobs) for name in NAMES if name in _KINDS}
    return {job.pk: {name: step[job.pk] for name, step in looked.items()} for job in jobs}


def _first_open(steps: Mapping[str, Finding]) -> str:
    """Return the name of the first of these steps that is not done, else of the last one."""
    return next((name for name, step in steps.items() if not step.done), NAMES[-1])


def _state(finding: Finding, *, here: bool, earlier_open: bool) -> str:
    """Return the word for a step's state."""
    if here:
        return "here"
    if finding.done:
        return "done"
    return "later" if earlier_open else "next"
