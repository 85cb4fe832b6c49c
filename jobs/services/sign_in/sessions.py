"""Who is signed in where: noted while they use the book, ended by them or by the owner."""

from __future__ import annotations

import logging
import time
from collections import OrderedDict
from collections.abc import Callable
from datetime import datetime

from django.contrib.sessions.models import Session
from django.db import DatabaseError, transaction
from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from jobs.domain.sign_in.devices import device_words
from jobs.http import client_address
from jobs.models import OpenSession, User
from jobs.services.records import audit

log = logging.getLogger(__name__)

Answer = Callable[[HttpRequest], HttpResponse]

NOTED_FOR_S = 15 * 60
"""A session in use is written down again after so long; so "seen" is that exact."""
_MOST_KEPT = 2000

_noted: OrderedDict[str, float] = OrderedDict()


def note_sessions(get_response: Answer) -> Answer:
    """Return the middleware that notes who uses the book from which browser.

    It asks nothing of who is not signed in, and writes at most every quarter of an hour; a database
    that takes nothing just now is no reason to show no page.
    """

    def answer(request: HttpRequest) -> HttpResponse:
        response = get_response(request)
        person = getattr(request, "_cached_user", None)  # there where the page asked who it is
        if isinstance(person, User):
            note_sign_in(request=request, user=person)
        return response

    return answer


def note_sign_in(*, request: HttpRequest, user: User, **_: object) -> None:
    """Note a session where it is due; the framework's signal calls it too, as somebody signs in."""
    key = request.session.session_key
    if not key or not _is_due(key):
        return
    try:
        note_session(person=user, key=key, request=request)
    except DatabaseError as trouble:
        log.warning("a session was not noted: %s", trouble)


def _is_due(key: str) -> bool:
    """Whether a session was not noted lately by this process; it counts as noted from now on."""
    now = time.monotonic()
    last = _noted.get(key)
    if last is not None and now - last < NOTED_FOR_S:
        return False
    _noted[key] = now
    _noted.move_to_end(key)
    while len(_noted) > _MOST_KEPT:
        _noted.popitem(last=False)
    return True


def note_session(*, person: User, key: str, request: HttpRequest) -> None:
    """Write down that a person uses the book by this session, and from where."""
    seen = {
        "person": person,
        "device": device_words(request.headers.get("User-Agent", "")),
        "address": client_address(request)[:64],
        "seen_at": timezone.now(),
    }
    with transaction.atomic():
        if not OpenSession.objects.filter(session_key=key).update(**seen):
            OpenSession.objects.get_or_create(session_key=key, defaults=seen)


@transaction.atomic
def end_session(*, row: OpenSession, user: User) -> None:
    """Sign a browser out: what it sends from now on comes from nobody."""
    Session.objects.filter(session_key=row.session_key).delete()
    row.delete()
    _leave_line(row.person, user, f"Signed out {row.person.name} on {row.device}")


@transaction.atomic
def end_other_sessions(*, person: User, but_for: str, user: User) -> int:
    """Sign a person out everywhere but in the session with this key; return how many ended."""
    rows = OpenSession.objects.filter(person=person).exclude(session_key=but_for)
    keys = list(rows.values_list("session_key", flat=True))
    Session.objects.filter(session_key__in=keys).delete()
    rows.delete()
    if keys:
        _leave_line(person, user, f"Signed out {person.name} on {len(keys)} other devices")
    return len(keys)


def _leave_line(person: User, user: User, act: str) -> None:
    if person.company is not None:
        audit(user=user, company=person.company, subject=f"person {person.pk}", act=act)


def sweep_sessions(now: datetime) -> int:
    """Remove the sessions that ran out, and the notes of those that are gone; return how many."""
    ended, _ = Session.objects.filter(expire_date__lt=now).delete()
    OpenSession.objects.exclude(session_key__in=Session.objects.values("session_key")).delete()
    return ended
