"""The book that a crowd works at: a company with agreed jobs, days, crews and an office."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.test import Client as Visitor
from django.urls import reverse

from jobs.clock import today_of
from jobs.models import Company, Job, Role, User
from jobs.services.days import Wish, lay_out_days
from tests.builders import make_crew, make_person
from tests.estimates.a_job import a_quote, accepted, an_owner, company_of

IN_A_CREW = 5


@dataclass(frozen=True, kw_only=True, slots=True)
class Seat:
    """One who works at the book: the session, and the addresses of list, plan and log."""

    cookie: str
    person: int
    office: bool
    list_page: str
    plan_page: str
    log_page: str
    scope: int


@dataclass(frozen=True, kw_only=True, slots=True)
class FilledBook:
    """The seats of a crowd, the owner's among them, and the jobs whose packets are printed."""

    company: Company
    owner: Seat
    seats: tuple[Seat, ...]
    jobs: tuple[int, ...]


def fill_book(people: int) -> FilledBook:
    """Return a new company's book with so many at work, of six one in the office."""
    owner = an_owner()
    company = company_of(owner)
    seats: list[Seat] = []
    jobs: list[int] = []
    while len(seats) < people:
        job = _agreed(owner, len(jobs))
        jobs.append(job.pk)
        seats += _seats_of(owner, job, min(people - len(seats), IN_A_CREW + 1))
    first = Job.objects.get(pk=jobs[0])
    return FilledBook(
        company=company, owner=_seat(owner, first), seats=tuple(seats), jobs=tuple(jobs)
    )


def _agreed(owner: User, number: int) -> Job:
    quote = a_quote(owner, key=f"crowd-{number}")
    accepted(quote)
    return Job.objects.get(pk=quote.job_id)


def _seats_of(owner: User, job: Job, count: int) -> Sequence[Seat]:
    company = company_of(owner)
    crew = [make_person(company, Role.CREW) for _ in range(max(count - 1, 1))]
    wish = Wish(crew=make_crew(company, *crew), start=today_of(company), saturdays=True)
    lay_out_days(job=job, user=owner, wish=wish, today=today_of(company))
    office = [make_person(company, Role.ESTIMATOR) for _ in range(count - len(crew))]
    return [_seat(person, job) for person in [*office, *crew]]


def _seat(person: User, job: Job) -> Seat:
    signed_in = Visitor()
    signed_in.force_login(person)
    day = job.days.order_by("date")[0]
    plan = job.zones.earliest("pk").plans.latest("pk")
    office = person.role != Role.CREW
    return Seat(
        cookie=f"sessionid={signed_in.cookies['sessionid'].value}",
        person=day.crew.members.earliest("pk").pk if office else person.pk,
        office=office,
        list_page=reverse("job-list") if office else reverse("today"),
        plan_page=reverse("plan", args=[plan.pk]),
        log_page=reverse("log-add", args=[day.pk]),
        scope=day.scope_id,
    )
