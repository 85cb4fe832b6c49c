"""A book of many jobs, quickly made: one job at every stage, and copies of its rows."""

from __future__ import annotations

import copy
from collections.abc import Iterator, Sequence
from itertools import cycle, islice
from typing import Any

from django.db.models import Model, QuerySet

from estimates.models import Acceptance, Estimate, Quote, QuoteEvent
from jobs.clock import today_of
from jobs.models import (
    Client,
    Company,
    Crew,
    DayLog,
    Document,
    FloorPlan,
    FloorZone,
    Job,
    LogEntry,
    Packet,
    Role,
    Room,
    Scope,
    SiteFacts,
    User,
    WorkDay,
)
from tests.builders import make_person
from tests.stages import STAGES

OPEN_SHARE = 40
"""One job of so many is open, the others are closed: ten new jobs a week, a quarter year each."""

_Made = dict[tuple[type[Model], int], list[Any]]
"""The copies of a row, by its table and key."""

_OF_A_JOB: tuple[tuple[type[Model], str], ...] = (
    (SiteFacts, "job"),
    (FloorZone, "job"),
    (Room, "job"),
    (FloorPlan, "zone__job"),
    (Scope, "job"),
    (Estimate, "job"),
    (Quote, "job"),
    (QuoteEvent, "quote__job"),
    (Acceptance, "quote__job"),
    (WorkDay, "job"),
    (DayLog, "day__job"),
    (LogEntry, "day__job"),
    (Packet, "job"),
)
"""The rows that hang on a job by the way to it, each after those that it hangs on."""


def made_book(owner: User, jobs: int, clients: int) -> User:
    """Fill the book of an owner's company and return a lead of a crew with work in it."""
    company = owner.company
    assert company is not None
    people = Client.objects.bulk_create(
        Client(company=company, name=f"Client {number:04}") for number in range(clients)
    )
    stages = [make(company) for _, make in STAGES]
    for stage, many in zip(stages, _shares(jobs - len(stages), len(stages)), strict=True):
        _copies(stage, many, people)
    lead = make_person(company, Role.CREW)
    for crew in Crew.objects.filter(company=company):
        crew.members.add(lead)
    WorkDay.objects.filter(pk__in=_first_days(company)).update(date=today_of(company))
    return lead


def _shares(jobs: int, stages: int) -> list[int]:
    """Return how many copies each stage gets: the open ones alike, ``Closed`` all that is left."""
    closed = [name for name, _ in STAGES].index("Closed")
    each = jobs // OPEN_SHARE // (stages - 1)
    return [each if at != closed else jobs - each * (stages - 1) for at in range(stages)]


def _first_days(company: Company) -> list[int]:
    """Return the first days of five jobs under way, for the crews of today."""
    days = WorkDay.objects.filter(job__company=company, job__closed_at=None, number=1)
    return list(days.order_by("job__number").values_list("pk", flat=True)[:5])


def _copies(stage: Job, many: int, people: Sequence[Client]) -> None:
    """Make so many copies of a job with all that hangs on it, each for the next client."""
    jobs = [copy.copy(stage) for _ in range(many)]
    start = Job.objects.filter(company=stage.company).order_by("-number")[0].number
    clients = list(islice(cycle(people), start, start + many))
    for number, (job, client) in enumerate(zip(jobs, clients, strict=True), start + 1):
        job.pk, job.number, job.client, job.agreed_scope = None, number, client, None
        job._state.adding = True
    made: _Made = {(Job, stage.pk): Job.objects.bulk_create(jobs, batch_size=500)}
    for model, way in _OF_A_JOB:
        rows: QuerySet[Any] = model._default_manager.filter(**{way: stage.pk}).order_by("pk")
        for row in rows:
            made[model, row.pk] = _copies_of(row, many, made)
    if stage.agreed_scope_id is not None:
        scopes = made[Scope, stage.agreed_scope_id]
        for job, scope in zip(made[Job, stage.pk], scopes, strict=True):
            job.agreed_scope = scope
        Job.objects.bulk_update(jobs, ["agreed_scope"], batch_size=500)


def _copies_of(row: Any, many: int, made: _Made) -> list[Any]:
    """Return copies of a row, each with those of what it hangs on; documents get copies too."""
    copies = [copy.copy(row) for _ in range(many)]
    for one in copies:
        one.pk, one._state = None, copy.copy(row._state)
        one._state.adding, one._state.fields_cache = True, {}
    for name, model, key in _hangs_on(row):
        if model is Document:
            made[Document, key] = _copies_of(Document.objects.get(pk=key), many, made)
        for one, other in zip(copies, made.get((model, key), ()), strict=False):
            setattr(one, name, other)
    return list(type(row)._default_manager.bulk_create(copies, batch_size=500))


def _hangs_on(row: Model) -> Iterator[tuple[str, type[Model], int]]:
    """Yield name, table and key of every row that this one hangs on."""
    for field in row._meta.concrete_fields:
        key = getattr(row, field.attname)
        if field.related_model is not None and key is not None:
            yield field.name, field.related_model, key
