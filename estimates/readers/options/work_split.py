"""What the homeowner takes on of a job, and the questions that keep work from them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from estimates.domain.options.work_split import (
    EVERYTHING,
    tasks_taken,
    without,
)
from estimates.domain.price_book import PricingTerms
from estimates.models import WorkSplit
from jobs.domain.tasks import TASKS
from jobs.models import Job
from jobs.readers.site import homeowners_codes, left_to_homeowner, open_questions

QUESTION_WORDS: Mapping[str, str] = {
    "asbestos": "asbestos in the old floor",
    "lead": "lead in the old paint",
}


def work_split_row(job: Job) -> WorkSplit:
    """Return the work split of a job; an unsaved row where the homeowner takes on nothing."""
    return WorkSplit.objects.filter(job=job).first() or WorkSplit(job=job)


def codes_of(row: WorkSplit) -> tuple[str, ...]:
    """Return what is ticked in a work split, as `work_shares` names it."""
    return (EVERYTHING,) if row.everything else tuple(row.left_out)


def questions_on(codes: tuple[str, ...], questions: Mapping[str, tuple[str, ...]]) -> str:
    """Return in words the open questions on any of these tasks; empty where there is none."""
    named = [each for code in tasks_taken(codes) for each in questions.get(code, ())]
    return " and ".join(QUESTION_WORDS[each] for each in dict.fromkeys(named))


def with_split(terms: PricingTerms, job: Job) -> PricingTerms:
    """Return the terms of a job without the work that its homeowner takes on.

    What an asbestos or lead question has come to stand on since stays in the price, and is told as
    a fault of it.
    """
    codes = homeowners_codes(job)
    if not codes:
        return terms
    theirs = left_to_homeowner(job)
    left = without(terms, theirs)
    barred = [code for code in codes if code not in theirs]
    if not barred:
        return left
    words = questions_on(tuple(barred), open_questions(job))
    labels = ", ".join(TASKS[code].label.lower() for code in barred)
    said = f"Left to the homeowner while {words} is not cleared: {labels}"
    return replace(left, barred=(said,))
