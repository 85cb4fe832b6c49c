"""The week in which an accepted quote says that work starts."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import timedelta

from estimates.models import QuoteDraft
from jobs.domain.board.booked import day_words
from jobs.readers.board.promises import PromisedStart

_TO_SUNDAY = timedelta(days=6)


def promised_weeks(jobs: Sequence[int]) -> Iterable[PromisedStart]:
    """Return the week promised for each of these jobs whose quote was accepted and names one."""
    drafts = QuoteDraft.objects.filter(job__in=jobs, start_week__isnull=False)
    for draft in drafts.filter(job__quotes__acceptance__isnull=False).distinct():
        if draft.start_week is None:
            continue
        monday = draft.start_week - timedelta(days=draft.start_week.weekday())
        yield PromisedStart(
            job=draft.job_id,
            earliest=monday,
            latest=monday + _TO_SUNDAY,
            words=f"The quote says the week of {day_words(monday)}.",
        )
