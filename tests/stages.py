"""Jobs at every stage of their path, quickly made: the steps before it are done, its own is not."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from decimal import Decimal
from typing import Any

from django.utils import timezone

from estimates.models import Acceptance, Estimate, Quote
from estimates.services.sending.links import open_link
from jobs.models import Company, Job, LogEntry, Product, SiteFacts, WorkDay
from jobs.services.files import store_file
from jobs.services.records import freeze, next_number
from tests.builders import (
    make_crew,
    make_document,
    make_job,
    make_packet,
    make_person,
    make_product,
    make_room,
    make_zone,
)
from tests.jobs.agreed import agree, make_scope
from tests.jobs.plans import planned_alike

DAY = date(2027, 3, 1)


def make_estimate(job: Job) -> Estimate:
    """Return an estimate of a job with a document that prices nothing."""
    number = next_number(job.estimates.all())
    document = make_document(job.company, "estimate", number=number)
    made = {"document": document, "cost": 900, "total": Decimal(1000 + number)}
    return Estimate.objects.create(job=job, scope=make_scope(job), number=number, **made)


def make_quote(job: Job, content: Mapping[str, Any] | None = None) -> Quote:
    """Return a quote of a job as if it had been issued, saying ``content``; it has no real PDF."""
    number = next_number(job.quotes.all())
    content = {**(content or {}), "number": number}
    pdf = store_file(
        company=job.company,
        content=f"quote {number} of job {job.pk}".encode(),
        name=f"quote-{number}.pdf",
        content_type="application/pdf",
    )
    quote = Quote.objects.create(
        job=job,
        estimate=make_estimate(job),
        number=number,
        document=freeze(company=job.company, kind="quote", content=content, user=None),
        pdf=pdf,
        total=Decimal(1000 + number),
        valid_until=DAY,
    )
    open_link(quote=quote)
    return quote


def accept(quote: Quote) -> None:
    """Let a quote be accepted and its scope agreed on."""
    seen = quote.document.sha256
    Acceptance.objects.create(quote=quote, name="Ines Okafor", document_sha256=seen)
    agree(quote.job, quote.estimate.scope)


def _note_site(job: Job) -> None:
    SiteFacts.objects.filter(job=job).update(year_built=1994)


def _plan_floors(job: Job) -> None:
    for room in job.rooms.all():
        planned_alike(make_zone(room, make_product(job.company, most_rh_pct=85)))


def _accept_second_quote(job: Job) -> None:
    make_quote(job)
    accept(make_quote(job))


def _lay_out(job: Job) -> None:
    crew = make_crew(job.company, make_person(job.company, "crew"))
    assert job.agreed_scope is not None
    for number in (1, 2):
        values = {"number": number, "date": DAY.replace(day=number), "hours": Decimal(8)}
        WorkDay.objects.create(job=job, crew=crew, scope=job.agreed_scope, **values)


def _log(job: Job) -> None:
    for day in job.days.all():
        who = day.crew.members.get()
        for key in ("first", "second"):
            LogEntry.objects.create(day=day, who=who, key=key, task="lay", hours=Decimal(4))


def close(job: Job) -> None:
    """Close a job."""
    job.closed_at = timezone.now()
    job.save()


_STEPS: Mapping[str, Callable[[Job], object]] = {
    "Site": _note_site,
    "Rooms": lambda job: [make_room(job, name) for name in ("Den", "Hall")],
    "Floor": _plan_floors,
    "Price": make_estimate,
    "Quote": _accept_second_quote,
    "Days": _lay_out,
    "Packet": lambda job: [make_packet(job) for _ in range(2)],
    "Log": _log,
    "Review": close,
}


def job_at(stage: str, company: Company) -> Job:
    """Return a job whose steps before this one are done; all of them for ``Closed``."""
    job = make_job(company)
    SiteFacts.objects.filter(job=job).update(year_built=None)
    for name, do in _STEPS.items():
        if name == stage:
            break
        do(job)
    return job


def with_open_floor(company: Company) -> Job:
    """Return a job with a planned floor, one that is not planned and a room without a floor."""
    job = job_at("Price", company)
    make_zone(make_room(job, "Attic"))
    make_room(job, "Loft")
    return job


def with_unfit_floor(company: Company) -> Job:
    """Return a job whose planned floor may not lie on what is down."""
    job = job_at("Price", company)
    Product.objects.filter(zones__job=job, zones__name="Hall").update(laid_over=["slab"])
    SiteFacts.objects.filter(job=job).update(tear_out=True, existing_floor="carpet")
    return job


def with_waiting_quote(company: Company) -> Job:
    """Return a job whose quote waits for the client's word."""
    job = job_at("Quote", company)
    make_quote(job)
    return job


def with_a_day_to_log(company: Company) -> Job:
    """Return a job one of whose two days is logged."""
    job = job_at("Review", company)
    LogEntry.objects.filter(day__job=job, day__number=2).delete()
    return job


STAGES: tuple[tuple[str, Callable[[Company], Job]], ...] = (
    *((name, lambda company, name=name: job_at(name, company)) for name in (*_STEPS, "Closed")),
    ("Floor", with_open_floor),
    ("Floor", with_unfit_floor),
    ("Quote", with_waiting_quote),
    ("Log", with_a_day_to_log),
)
"""Where a job stands, and how such a job is made."""
