"""A job whose quote was accepted, with a scope written by hand: quick, and easy to reckon with.

setup 1.5 h, tear_out 4 h, lay 16 h in 8 rows, base 3 h, clean 0.5 h: 25 h in all
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

from jobs.domain.scope.scope import FrozenScope, ScopeZone, scope_document
from jobs.domain.tasks import Task
from jobs.models import Company, Crew, ExistingFloor, Job, Role, Scope, SiteFacts, User, WorkDay
from jobs.services.days import Wish, lay_out_days
from jobs.services.records import freeze, next_number
from tests.builders import make_company, make_crew, make_job, make_person

MONDAY = date(2027, 3, 1)
ROWS = 8


def a_task(code: str, hours: str, zone: str = "Den", **values: Any) -> Task:
    """Return a task of so many hours."""
    label = values.pop("label", code.replace("_", " ").capitalize())
    return Task(
        code=code, zone=zone, label=label, hours=Decimal(hours), basis="told for a test", **values
    )


TASKS = (
    a_task("setup", "1.50", zone=""),
    a_task("tear_out", "4.00", after=("setup",), label="Take the old floor out"),
    a_task("lay", "16.00", after=("tear_out:Den",), rows=(1, ROWS), label="Lay the floor"),
    a_task("base", "3.00", after=("lay:Den",), label="Put base on"),
    a_task("clean", "0.50", zone="", after=("base:Den",), label="Clean and hand over"),
)


def make_scope(
    job: Job,
    tasks: tuple[Task, ...] = TASKS,
    rows: int = ROWS,
    left: tuple[str, ...] | None = (),
    plan_sha256: str = "a" * 64,
) -> Scope:
    """Return a frozen scope of one floor, the den; `left` is what the homeowner does."""
    zone = ScopeZone(name="Den", rows=rows, area_ft2=Decimal(120), plan_sha256=plan_sha256)
    value = FrozenScope(zones=(zone,), quantities=(), tasks=tasks, left_to_homeowner=left)
    document = freeze(company=job.company, kind="scope", content=scope_document(value), user=None)
    number = next_number(job.scopes.all())
    return Scope.objects.create(job=job, number=number, document=document, hours=value.crews_hours)


def agree(job: Job, scope: Scope) -> Job:
    """Return the job with this scope agreed on."""
    job.agreed_scope = scope
    job.save()
    return job


def agreed_job(company: Company | None = None, **values: Any) -> Job:
    """Return a job with an agreed scope."""
    job = make_job(company or make_company(), **values)
    return agree(job, make_scope(job))


def a_crew(company: Company, people: int = 1) -> Crew:
    """Return a crew of so many people."""
    return make_crew(company, *(make_person(company, Role.CREW) for _ in range(people)))


def laid_out(job: Job, crew: Crew, start: date = MONDAY, **wish: Any) -> list[WorkDay]:
    """Return the days of a job from a Monday on."""
    owner = User.objects.filter(company=job.company, role=Role.OWNER).first()
    user = owner or make_person(job.company)
    wanted = Wish(crew=crew, start=start, **wish)
    return lay_out_days(job=job, user=user, wish=wanted, today=MONDAY)


def hold_asbestos(job: Job) -> None:
    """Let the site have an old resilient floor that comes out: a hold point on tearing it out."""
    facts = SiteFacts.objects.filter(job=job)
    facts.update(existing_floor=ExistingFloor.RESILIENT, floor_year=1970, tear_out=True)
