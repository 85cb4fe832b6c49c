"""What keeps the machine from writing, in words: a full or shut disk, a busy or silent database.

The page about a fault is made here, since such trouble is told apart from faults of the program.
"""

from __future__ import annotations

import errno
import logging
import shutil
import sys
from typing import TypeGuard

from django.conf import settings
from django.db import DatabaseError, InterfaceError, OperationalError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

log = logging.getLogger(__name__)

WriteTrouble = OSError | DatabaseError | InterfaceError
"""What is raised where nothing could be written."""

LEAST_ROOM_BYTES = 256 * 1024
"""With less room than this SQLite can't even open its book: it makes files beside it."""

_FULL_NUMBERS = (errno.ENOSPC, errno.EDQUOT)
_NO_ROOM, _READ_ONLY = "53100", "25006"
_SILENT_STATES = ("08", "57P")
"""How the states of PostgreSQL begin where a line to it broke, or it starts and stops."""

_FULL = (
    "There is no room left on the disk of this machine, so nothing was saved. "
    "Whoever runs the site must make room; then save again."
)
_SHUT = (
    "The disk of this machine can't be written on, so nothing was saved. "
    "Tell whoever runs the site; then save again."
)
_READS_ONLY = (
    "The database takes no writing just now and can only be read, so nothing was saved. "
    "Tell whoever runs the site; then save again."
)
_SILENT = (
    "The database doesn't answer, so nothing was saved. Save again in a moment; "
    "where it stays so, tell whoever runs the site."
)
_BUSY = (
    "Somebody else is writing in the book just now, so nothing was saved. Save again in a moment."
)


def is_unwritten(fault: BaseException | None) -> TypeGuard[WriteTrouble]:
    """Whether nothing could be written for the machine's sake, not for a fault of the program.

    A PostgreSQL that only reads is no OperationalError: it refuses as for a wrong state, and where
    its disk is shut as for a missing right.
    """
    if isinstance(fault, OperationalError | InterfaceError):
        return True
    if isinstance(fault, DatabaseError):
        return _state_of(fault) == _READ_ONLY or "read-only file system" in str(fault).lower()
    return isinstance(fault, OSError) and fault.errno in (*_FULL_NUMBERS, errno.EROFS)


def trouble_words(trouble: WriteTrouble) -> str:
    """Return what keeps the machine from writing and what to do, in a sentence for the page."""
    log.error("nothing could be written: %s", trouble)
    said, number = str(trouble).lower(), getattr(trouble, "errno", None)
    state = _state_of(trouble)
    if state == _NO_ROOM or "full" in said or "no space" in said or number in _FULL_NUMBERS:
        return _FULL
    if state == _READ_ONLY:
        return _READS_ONLY
    if "readonly" in said or "read-only" in said or number == errno.EROFS:
        return _SHUT
    if _is_silent(trouble, state):
        return _SILENT
    if "i/o error" in said or "unable to open" in said or (state or "").startswith("58"):
        return _of_the_disk()
    return _BUSY


def server_trouble(request: HttpRequest) -> HttpResponse:
    """Return the page about a fault of the program, or 503 about a disk or a book that is shut."""
    fault = sys.exc_info()[1]
    if is_unwritten(fault):
        context = {"trouble": trouble_words(fault)}
        answer = render(request, "503.html", context, status=503)
        answer["Retry-After"] = "10"
        return answer
    return render(request, "500.html", status=500)


def _state_of(trouble: BaseException) -> str | None:
    """Return the five letters by which PostgreSQL says what is wrong; empty for SQLite."""
    state: str | None = getattr(trouble.__cause__, "sqlstate", "")
    return state


def _is_silent(trouble: WriteTrouble, state: str | None) -> bool:
    """Whether the line to PostgreSQL broke or was never there: then it names no state."""
    if isinstance(trouble, InterfaceError) or state is None:
        return True
    return state.startswith(_SILENT_STATES)


def _of_the_disk() -> str:
    """Return what the disk itself shows where the database only says that it could not go on."""
    near = next(place for place in (settings.VAR, *settings.VAR.parents) if place.exists())
    if shutil.disk_usage(near).free < LEAST_ROOM_BYTES:
        return _FULL
    return _SHUT
