"""The worked job of 580 ft2 with an agreed scope, laid onto days: its office is a bedroom."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from jobs.domain.scope.scope import FrozenScope, ScopeZone, scope_document
from jobs.models import Company, Crew, Job, Scope, User, WorkDay
from jobs.services.days import Wish, lay_out_days
from jobs.services.records import freeze
from tests.builders import make_job
from tests.jobs.agreed import agree
from tests.jobs.domain.schedule.worked_job import the_job


def worked_scope(job: Job, people: int) -> Scope:
    """Return the frozen scope of the worked job."""
    work, _ = the_job(people, {"office": "bedroom"})
    zone = ScopeZone(name="down", rows=44, area_ft2=Decimal(580), plan_sha256="a" * 64)
    value = FrozenScope(zones=(zone,), quantities=(), tasks=tuple(work.tasks), left_to_homeowner=())
    document = freeze(company=job.company, kind="scope", content=scope_document(value), user=None)
    return Scope.objects.create(job=job, number=1, document=document, hours=value.crews_hours)


def worked_job(company: Company, people: int = 2) -> Job:
    """Return the job with its agreed scope."""
    job = make_job(company, title="Study and landing")
    return agree(job, worked_scope(job, people))


def on_days(job: Job, crew: Crew, user: User, start: date, today: date) -> list[WorkDay]:
    """Return the job's days from a date on."""
    return lay_out_days(job=job, user=user, wish=Wish(crew=crew, start=start), today=today)
