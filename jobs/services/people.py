"""Clients, jobs, site facts, people, crews, the company: what the office writes.

Every write takes the ``key`` of the form it came from: sent twice, it is carried out once.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django.db import transaction

from jobs.models import Client, Company, Crew, User
from jobs.services.records import audit, save_versioned, write_once

CLIENT_FIELDS = ("name", "email", "phone", "address", "note")
COMPANY_FIELDS = (
    *("name", "address", "phone", "email", "licence", "insurance"),
    *("units", "paper", "currency", "time_zone", "crew_day_hours", "trip_hours"),
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
