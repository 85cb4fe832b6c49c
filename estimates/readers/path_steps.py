"""The steps of a job's path that are about money: Price, Quote, Review."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from typing import Any

from estimates.models import Acceptance, Estimate, Quote, QuoteEvent
from estimates.readers.sending.states import SENT
from jobs.clock import day_of
from jobs.models import Job
from jobs.readers import path
from jobs.readers.path import Finding
from jobs.readers.together.round_trip import KindRows, RowKind

DECLINED = QuoteEvent.Kind.DECLINED


ESTIMATES = RowKind(
    of=lambda jobs: Estimate.objects.filter(job__in=jobs).only("job", "number"),
    by=lambda estimate: estimate.number,
)
QUOTES = RowKind(
    of=lambda jobs: Quote.objects.filter(job__in=jobs).only("job", "number"),
    by=lambda quote: quote.number,
)
ACCEPTANCES = RowKind(of=lambda jobs: Acceptance.objects.filter(quote__job__in=jobs).only("quote"))
WORDS = RowKind(
    of=lambda jobs: QuoteEvent.objects.filter(quote__job__in=jobs, kind__in=[*SENT, DECLINED]).only(
        "quote", "kind"
    )
)


def register() -> None:
    """Give the path its money steps."""
    prices: list[RowKind[Any]] = [ESTIMATES]
    quotes: list[RowKind[Any]] = [QUOTES, ACCEPTANCES, WORDS]
    path.register("Price", url_name="job-price", office_only=True, look=_prices, rows=prices)
    path.register("Quote", url_name="job-quotes", office_only=True, look=_quotes, rows=quotes)
    path.register("Review", url_name="job-review", office_only=True, look=_reviews)


def _prices(jobs: Sequence[Job], rows: KindRows) -> dict[int, Finding]:
    newest = {estimate.job_id: estimate.number for estimate in rows[ESTIMATES]}
    return {job.pk: _price(newest.get(job.pk)) for job in jobs}


def _price(number: int | None) -> Finding:
    if number is None:
        return Finding(done=False, note="", todo="Price the job and write its quote.")
    return Finding(done=True, note=f"Estimate {number}", todo="")


def _quotes(jobs: Sequence[Job], rows: KindRows) -> dict[int, Finding]:
    newest = {quote.job_id: quote for quote in rows[QUOTES]}
    accepted = {acceptance.quote_id for acceptance in rows[ACCEPTANCES]}
    happened: dict[int, set[str]] = defaultdict(set)
    for event in rows[WORDS]:
        happened[event.quote_id].add(event.kind)
    return {
        job.pk: _quote(quote, happened[quote.pk], is_accepted=quote.pk in accepted)
        if (quote := newest.get(job.pk))
        else Finding(done=False, note="", todo="Issue the quote.")
        for job in jobs
    }


def _quote(quote: Quote, happened: set[str], *, is_accepted: bool) -> Finding:
    if is_accepted:
        return Finding(done=True, note=f"Quote {quote.number} accepted", todo="")
    if DECLINED in happened:
        todo = f"Quote {quote.number} is declined: read why, and issue another if it is worth it."
        return Finding(done=False, note=f"Quote {quote.number} declined", todo=todo)
    if happened.isdisjoint(SENT):
        todo = f"Send quote {quote.number}, by text or by mail, or record the client's word on it."
        return Finding(done=False, note=f"Quote {quote.number} issued", todo=todo)
    todo = f"Wait for the client's word on quote {quote.number}, or record it when they call."
    return Finding(done=False, note=f"Quote {quote.number} sent", todo=todo)


def _reviews(jobs: Sequence[Job], _: KindRows) -> dict[int, Finding]:
    return {job.pk: _review(job) for job in jobs}


def _review(job: Job) -> Finding:
    if job.closed_at is not None:
        closed = day_of(job.closed_at, job.company)
        return Finding(done=True, note=f"Closed {closed:%b} {closed.day}", todo="")
    todo = "Enter the purchases, look at the review and close the job."
    return Finding(done=False, note="", todo=todo)
