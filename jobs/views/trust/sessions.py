"""Pages of who is signed in where: one's own browsers, and, for the owner, anybody's."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.views.decorators.http import require_POST, require_safe

from jobs.access import SignedInRequest, owner, person_for, signed_in
from jobs.http import go_to, render_page
from jobs.models import User
from jobs.readers.trust.sessions import open_sessions_of, session_for
from jobs.services.sign_in.sessions import end_other_sessions, end_session
from jobs.views.list_page import page_of


@require_safe
@signed_in
def session_list(request: SignedInRequest) -> HttpResponse:
    """Every browser in which one is signed in."""
    return _page(request, request.user)


@require_safe
@owner
def person_sessions(request: SignedInRequest, pk: int) -> HttpResponse:
    """Every browser in which a person of the company is signed in."""
    return _page(request, person_for(request, pk))


def _page(request: SignedInRequest, person: User) -> HttpResponse:
    context = {
        "person": person,
        "is_self": person == request.user,
        "rows": page_of(request, open_sessions_of(person)),
        "this": request.session.session_key,
    }
    return render_page(request, "jobs/trust/sessions.html", context)


@require_POST
@signed_in
def session_end(request: SignedInRequest, pk: int) -> HttpResponse:
    """Sign out one browser."""
    row = session_for(request, pk)
    person = row.person
    end_session(row=row, user=request.user)
    messages.success(request, f"{person.name} is signed out on {row.device}.")
    return _back(request, person)


@require_POST
@signed_in
def session_end_others(request: SignedInRequest) -> HttpResponse:
    """Sign out every browser of one's own but this one."""
    this = request.session.session_key or ""
    ended = end_other_sessions(person=request.user, but_for=this, user=request.user)
    messages.success(request, f"Signed out on {ended} other device{'' if ended == 1 else 's'}.")
    return go_to(request, "session-list")


@require_POST
@owner
def person_sessions_end(request: SignedInRequest, pk: int) -> HttpResponse:
    """Sign a person out everywhere; the owner's own browser stays."""
    person = person_for(request, pk)
    this = request.session.session_key or ""
    end_other_sessions(person=person, but_for=this, user=request.user)
    messages.success(request, f"{person.name} is signed out everywhere.")
    return _back(request, person)


def _back(request: SignedInRequest, person: User) -> HttpResponse:
    if person == request.user:
        return go_to(request, "session-list")
    return go_to(request, "person-sessions", person.pk)
