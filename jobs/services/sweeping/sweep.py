"""The daily sweep: what ran out goes, and what went is told in figures."""

from __future__ import annotations

from datetime import datetime, timedelta

from axes.models import AccessAttempt, AccessFailureLog, AccessLog

from jobs.models import SentOnce
from jobs.services.sign_in.sessions import sweep_sessions
from jobs.services.sweeping.orphans import sweep_contents, sweep_file_rows
from jobs.services.sweeping.photographs import sweep_photographs

KIND = "sweep-book"
MARKS_LIE = timedelta(days=180)
"""A phone that was in a drawer for so long sends its entries and is told what was saved before."""
SIGN_INS_LIE = timedelta(days=90)

WORDS = {
    "sessions": "sign-ins that ran out",
    "marks": "marks of forms sent long ago",
    "sign_ins": "notes of sign-ins",
    "photographs": "photographs past their time",
    "file_rows": "files that nothing needs",
    "contents": "left-over contents",
}


def sweep_book(now: datetime) -> dict[str, int]:
    """Sweep all; return how many went of each, by the keys of `WORDS`."""
    marks, _ = SentOnce.objects.filter(at__lt=now - MARKS_LIE).delete()
    attempts = 0
    for noted in (AccessAttempt, AccessFailureLog, AccessLog):
        gone, _ = noted.objects.filter(attempt_time__lt=now - SIGN_INS_LIE).delete()
        attempts += gone
    return {
        "sessions": sweep_sessions(now),
        "marks": marks,
        "sign_ins": attempts,
        "photographs": sweep_photographs(now),
        "file_rows": sweep_file_rows(now),
        "contents": sweep_contents(now),
    }
