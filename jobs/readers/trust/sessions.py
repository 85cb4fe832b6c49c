"""The browsers in which a person is signed in now."""

from __future__ import annotations

from django.contrib.sessions.models import Session
from django.db.models import QuerySet
from django.shortcuts import get_object_or_404
from django.utils import timezone

from jobs.access import SignedInRequest, company_of
from jobs.models import OpenSession, User


def session_for(request: SignedInRequest, pk: int) -> OpenSession:
    """Return a session this person may end: the owner everybody's, others their own. Or Http404."""
    rows = OpenSession.objects.filter(person__company=company_of(request))
    if not request.user.is_owner:
        rows = rows.filter(person=request.user)
    return get_object_or_404(rows.select_related("person__company"), pk=pk)


def open_sessions_of(person: User) -> QuerySet[OpenSession]:
    """Return the sessions of a person that are still good, the one used last first."""
    good = Session.objects.filter(expire_date__gt=timezone.now())
    return person.open_sessions.filter(session_key__in=good.values("session_key"))
