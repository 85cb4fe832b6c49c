"""The browsers in which a person is signed in now."""

from __future__ import annotations

from django.contrib.sessions.models import Session
from django.db.models import QuerySet
from django.utils import timezone

from jobs.models import OpenSession, User


def open_sessions_of(person: User) -> QuerySet[OpenSession]:
    """Return the sessions of a person that are still good, the one used last first."""
    good = Session.objects.filter(expire_date__gt=timezone.now())
    return person.open_sessions.filter(session_key__in=good.values("session_key"))
