"""Rows of what keeps the book safe."""

from __future__ import annotations

from datetime import timedelta

from django.contrib.sessions.models import Session
from django.utils import timezone

from jobs.models import OpenSession
from tests.growing import OwnersBook


def open_sessions(book: OwnersBook, number: int) -> None:
    """Browsers in which the owner is signed in."""
    key = f"session-{number}"
    until = timezone.now() + timedelta(days=number + 1)
    Session.objects.create(session_key=key, session_data="", expire_date=until)
    OpenSession.objects.create(person=book.owner, session_key=key, device=f"Firefox {number}")
