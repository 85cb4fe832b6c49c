"""Clients, jobs, site facts, people, crews, the company: what the office writes.

Every write takes the ``key`` of the form it came from: sent twice, it is carried out once.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django.db import transaction
from django.db.models import F

from jobs.models import Client, Company, Crew, HoldClearance, Job, SiteFacts, User
from jobs.records import audit, save_versioned, write_once

CLIENT_FIELDS = ("name", "email", "phone", "address", "note")
JOB_FIELDS = ("client", "title", "address", "units")
COMPANY_FIELDS = (
    *("name", "address", "phone", "email", "licence", "insurance"),
    *("units", "paper", "currency", "time_zone", "crew_day_hours", "trip_hours"),
)
SITE_FIELDS = (
    *("year_built", "existing_floor", "floor_year", "tear_out", "subfloor"),
    *("heated_floor", "accessible_route", "bag_fills_ft3"),
    *("painted_ft2_per_room", "flights", "fire_door", "gas_appliance", "grinding", "access"),
)
CREW_FIELDS = ("name", "hours_per_day")
PERSON_FIELDS = ("name", "email", "phone", "role", "is_active")


def add_client(*, company: Company, user: User, key: str, values: dict[str, Any]) -> Client:
    """Return the new client of ``company``."""

    def write() -> Client:
        client = Client.objects.create(company=company, **values)
        audit(user=user, company=company, subject=f"client {client.pk}", act=f"Added {client}")
        return client

    rows = company.clients.all()
    return write_once(company=company, key=key, action="add client", rows=rows, write=write)


def change_client(*, client: Client, user: User, key: str, expected: int) -> Client:
    """Save an edited client. Raises StaleError where somebody else saved first."""
    company = client.company

    def write() -> Client:
        save_versioned(client, expected=expected, names=CLIENT_FIELDS)
        audit(user=user, company=company, subject=f"client {client.pk}", act=f"Changed {client}")
        return client

    rows = company.clients.all()
    return write_once(company=company, key=key, action="change client", rows=rows, write=write)


def add_job(*, company: Company, user: User, key: str, values: dict[str, Any]) -> Job:
    """Return the new job with the company's next number and an empty sheet of site facts."""

    def write() -> Job:
        counted = Company.objects.filter(pk=company.pk)
        counted.update(next_job_number=F("next_job_number") + 1)
        number = counted.values_list("next_job_number", flat=True)[0] - 1
        job = Job.objects.create(company=company, number=number, **values)
        SiteFacts.objects.create(job=job)
        audit(user=user, company=company, subject=f"job {job.pk}", act=f"Opened {job}")
        return job

    return write_once(
        company=company, key=key, action="add job", rows=company.jobs.all(), write=write
    )


def change_job(*, job: Job, user: User, key: str, expected: int) -> Job:
    """Save an edited job. Raises StaleError where somebody else saved first."""
    company = job.company

    def write() -> Job:
        save_versioned(job, expected=expected, names=JOB_FIELDS)
        audit(user=user, company=company, subject=f"job {job.pk}", act=f"Changed {job}")
        return job

    return write_once(
        company=company, key=key, action="change job", rows=company.jobs.all(), write=write
    )


def change_site(*, site: SiteFacts, user: User, key: str, expected: int) -> SiteFacts:
    """Save edited site facts. Raises StaleError where somebody else saved first."""
    job = site.job

    def write() -> SiteFacts:
        save_versioned(site, expected=expected, names=SITE_FIELDS)
        act = "Changed the site facts"
        audit(user=user, company=job.company, subject=f"job {job.pk}", act=act)
        return site

    rows = SiteFacts.objects.filter(job=job)
    return write_once(company=job.company, key=key, action="change site", rows=rows, write=write)


@transaction.atomic
def clear_hold(*, job: Job, user: User, code: str, by: str, note: str) -> HoldClearance:
    """Return the clearance of a hold point; a second one changes nothing."""
    cleared, new = HoldClearance.objects.get_or_create(
        job=job, code=code, defaults={"by": by, "note": note, "user": user}
    )
    if new:
        act = f"Cleared the hold point {code}, named: {by}"
        audit(user=user, company=job.company, subject=f"job {job.pk}", act=act)
    return cleared


def add_person(
    *, company: Company, user: User, key: str, password: str, values: dict[str, Any]
) -> User:
    """Return the new person of ``company``."""

    def write() -> User:
        person = User.objects.create_user(password=password, company=company, **values)
        act = f"Added {person.name} as {person.get_role_display().lower()}"
        audit(user=user, company=company, subject=f"person {person.pk}", act=act)
        return person

    rows = company.people.all()
    return write_once(company=company, key=key, action="add person", rows=rows, write=write)


@transaction.atomic
def change_person(*, company: Company, person: User, user: User, password: str) -> User:
    """Save an edited person, with a new password where one is given."""
    if password:
        person.set_password(password)
    person.save()
    act = f"Changed {person.name}" + (" and the password" if password else "")
    audit(user=user, company=company, subject=f"person {person.pk}", act=act)
    return person


def add_crew(
    *, company: Company, user: User, key: str, values: dict[str, Any], members: Iterable[User]
) -> Crew:
    """Return the new crew with its members."""

    def write() -> Crew:
        crew = Crew.objects.create(company=company, **values)
        crew.members.set(members)
        audit(user=user, company=company, subject=f"crew {crew.pk}", act=f"Added {crew}")
        return crew

    rows = company.crews.all()
    return write_once(company=company, key=key, action="add crew", rows=rows, write=write)


def change_crew(
    *, crew: Crew, user: User, key: str, expected: int, members: Iterable[User]
) -> Crew:
    """Save an edited crew and its members. Raises StaleError where somebody else saved first."""
    company = crew.company

    def write() -> Crew:
        save_versioned(crew, expected=expected, names=CREW_FIELDS)
        crew.members.set(members)
        audit(user=user, company=company, subject=f"crew {crew.pk}", act=f"Changed {crew}")
        return crew

    rows = company.crews.all()
    return write_once(company=company, key=key, action="change crew", rows=rows, write=write)


def change_company(*, company: Company, user: User, key: str, expected: int) -> Company:
    """Save the edited company. Raises StaleError where somebody else saved first."""

    def write() -> Company:
        save_versioned(company, expected=expected, names=COMPANY_FIELDS)
        audit(user=user, company=company, subject="company", act="Changed the particulars")
        return company

    rows = Company.objects.filter(pk=company.pk)
    return write_once(company=company, key=key, action="change company", rows=rows, write=write)
