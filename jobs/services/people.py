"""Clients, jobs, site facts, people, crews, the company: what the office writes.

Every write takes the ``key`` of the form it came from: sent twice, it is carried out once.
"""

from __future__ import annotations

from collections.abc import Iterable

from django.db import transaction

from jobs.domain.checks import BadValueError
from jobs.models import Client, Company, Crew, Role, User
from jobs.models.base import Values
from jobs.services.records import audit, put_values, save_versioned, writes_once

CLIENT_FIELDS = ("name", "kind", "email", "phone", "address", "note")
MEASURES = ("units", "wall_error_mm")
"""What of a company is a unit system, or is measured in it."""
COMPANY_FIELDS = (
    *("name", "address", "phone", "email", "license", "insurance"),
    *("country", "state"),
    *("paper", "currency", "time_zone", "crew_day_hours", "trip_hours", *MEASURES),
)
CREW_FIELDS = ("name", "hours_per_day")
PERSON_FIELDS = ("name", "email", "phone", "role", "is_active")


@writes_once(Client, "add client")
def add_client(*, company: Company, user: User, key: str, values: Values) -> Client:
    """Return the new client of ``company``."""
    client = Client.objects.create(company=company, **values)
    audit(user=user, company=company, subject=f"client {client.pk}", act=f"Added {client}")
    return client


@writes_once(Client, "change client")
def change_client(*, client: Client, user: User, key: str, expected: int, values: Values) -> Client:
    """Return the changed client. Raises StaleError where somebody else saved first."""
    put_values(client, values)
    save_versioned(client, expected=expected, names=CLIENT_FIELDS)
    company = client.company
    audit(user=user, company=company, subject=f"client {client.pk}", act=f"Changed {client}")
    return client


@writes_once(User, "add person")
def add_person(*, company: Company, user: User, key: str, password: str, values: Values) -> User:
    """Return the new person of ``company``; without a password, one who waits for a link."""
    person = User.objects.create_user(password=password or None, company=company, **values)
    act = f"Added {person.name} as {person.get_role_display().lower()}"
    audit(user=user, company=company, subject=f"person {person.pk}", act=act)
    return person


@transaction.atomic
def change_person(
    *, company: Company, person: User, user: User, password: str, values: Values
) -> User:
    """Return the changed person, with a new password where one is given.

    Raises BadValueError where nobody would be left who may do everything.
    """
    others = company.people.select_for_update().exclude(pk=person.pk)
    stays = values["role"] == Role.OWNER and values["is_active"]
    if not stays and not others.filter(role=Role.OWNER, is_active=True).exists():
        field = "role" if values["role"] != Role.OWNER else "is_active"
        accepted = f"the owner's role and sign-in for {person.name}, or another owner first"
        raise BadValueError(field=field, value="taken from the last owner", accepted=accepted)
    put_values(person, values)
    if password:
        person.set_password(password)
    person.save()
    act = f"Changed {person.name}" + (" and the password" if password else "")
    audit(user=user, company=company, subject=f"person {person.pk}", act=act)
    return person


def note_password_change(*, person: User, how: str) -> None:
    """Leave a line of a password that its own person set."""
    if person.company is not None:
        audit(user=person, company=person.company, subject=f"person {person.pk}", act=how)


@writes_once(Crew, "add crew")
def add_crew(
    *, company: Company, user: User, key: str, values: Values, members: Iterable[User]
) -> Crew:
    """Return the new crew with its members."""
    crew = Crew.objects.create(company=company, **values)
    crew.members.set(members)
    audit(user=user, company=company, subject=f"crew {crew.pk}", act=f"Added {crew}")
    return crew


@writes_once(Crew, "change crew")
def change_crew(
    *, crew: Crew, user: User, key: str, expected: int, values: Values, members: Iterable[User]
) -> Crew:
    """Return the changed crew with its members. Raises StaleError if somebody else saved first."""
    put_values(crew, values)
    save_versioned(crew, expected=expected, names=CREW_FIELDS)
    crew.members.set(members)
    company = crew.company
    audit(user=user, company=company, subject=f"crew {crew.pk}", act=f"Changed {crew}")
    return crew


@writes_once(Company, "change company")
def change_company(
    *, company: Company, user: User, key: str, expected: int, values: Values
) -> Company:
    """Return the changed company. Raises StaleError where somebody else saved first."""
    put_values(company, values)
    save_versioned(company, expected=expected, names=COMPANY_FIELDS)
    audit(user=user, company=company, subject="company", act="Changed the particulars")
    return company
