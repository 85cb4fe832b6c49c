"""Links by which a person sets a password: for somebody new, and for who lost theirs.

A link is computed from the site's secret, the password that was and the last sign-in: it works
once, for `LIFE_DAYS` days, and stands nowhere. The outbox keeps whose it is, never the link.
"""

from __future__ import annotations

from datetime import datetime

from django.conf import settings
from django.contrib.auth.tokens import default_token_generator
from django.db import transaction
from django.utils.encoding import force_bytes
from django.utils.http import urlsafe_base64_encode

from jobs.http import whole_address
from jobs.models import Company, Mail, User
from jobs.services.mail.outbox import LINK, link_address, mail_is_set, post
from jobs.services.records import audit

LIFE_DAYS = settings.PASSWORD_RESET_TIMEOUT // (24 * 3600)

_TEXT = """Here you set your password for the book of {company}:

{link}

It works once, for {days} days. If you expected no such mail, do nothing: nothing changes.
"""


def password_link(person: User) -> str:
    """Return the whole address at which this person sets a password, once."""
    who = urlsafe_base64_encode(force_bytes(person.pk))
    return whole_address("password-set", who, default_token_generator.make_token(person))


@link_address("password")
def address_of_person(pk: int) -> str:
    """Return the address for the person of this number, in the moment of sending."""
    return password_link(User.objects.get(pk=pk, is_active=True))


@transaction.atomic
def make_link(*, person: User, user: User) -> str:
    """Return a link for a person, made by the owner to hand it over; a line says who made it."""
    _note(person, user, f"Made a link for {person.name} to set a password")
    return password_link(person)


@transaction.atomic
def mail_link(*, person: User, user: User | None, key: str) -> Mail:
    """Return the posted mail with a link. Raises BadValueError where no mail can be sent."""
    company = _note(person, user, f"Mailed {person.name} a link to set a password")
    return post(
        company=company,
        kind="password-link",
        about=f"person:{person.pk}",
        key=f"password:{person.pk}:{key}",
        to=person.email,
        subject=f"Set your password for {company.name}",
        text=_TEXT.format(company=company.name, link=LINK, days=LIFE_DAYS),
        link=("password", person.pk),
        user=user,
    )


def mail_who_lost(*, email: str, now: datetime) -> None:
    """Mail a link to who signs in with this address, at most once an hour; to nobody else.

    Whether there is such a person is not to be seen from outside.
    """
    people = User.objects.filter(email__iexact=email.strip(), is_active=True, company__isnull=False)
    person = people.first()
    if person is not None and mail_is_set():
        mail_link(person=person, user=None, key=f"lost-{now:%Y%m%d%H}")


def _note(person: User, user: User | None, act: str) -> Company:
    """Leave a line in the book of the person's company; return the company."""
    if person.company is None:
        message = f"{person} belongs to no company."
        raise ValueError(message)
    audit(user=user, company=person.company, subject=f"person {person.pk}", act=act)
    return person.company
