"""The steps of a job's path that are about money: Price, Quote, Review."""

from __future__ import annotations

from collections.abc import Sequence

from django.db.models import Max

from estimates.models import Estimate, Quote, QuoteEvent
from estimates.readers.sending.states import SENT
from jobs.clock import day_of
from jobs.models import Job
from jobs.readers import path
from jobs.readers.path import Finding

DECLINED = QuoteEvent.Kind.DECLINED


def register() -> None:
    """Give the path its money steps."""
    path.register("Price", url_name="job-price", office_only=True, look=_prices)
    path.register("Quote", url_name="job-quotes", office_only=True, look=_quotes)
    path.register("Review", url_name="job-review", office_only=True, look=_reviews)


def _prices(jobs: Sequence[Job]) -> dict[int, Finding]:
    estimates = Estimate.objects.filter(job__in=jobs)
    newest = dict(estimates.values_list("job").annotate(Max("number")))
    return {job.pk: _price(newest.get(job.pk)) for job in jobs}


def _price(number: int | None) -> Finding:
    if number is None:
        return Finding(done=False, note="", todo="Price the job and write its quote.")
    return Finding(done=True, note=f"Estimate {number}", todo="")


def _quotes(jobs: Sequence[Job]) -> dict[int, Finding]:
    quotes = Quote.objects.filter(job__in=jobs).select_related("acceptance").order_by("number")
    newest = {quote.job_id: quote for quote in quotes}
    events = QuoteEvent.objects.filter(quote__in=newest.values(), kind__in=[*SENT, DECLINED])
    happened = set(events.values_list("quote", "kind"))
    return {
        job.pk: _quote(quote, {kind for pk, kind in happened if quote and pk == quote.pk})
        for job in jobs
        for quote in [newest.get(job.pk)]
    }


def _quote(quote: Quote | None, happened: set[str]) -> Finding:
    if quote is None:
        return Finding(done=False, note="", todo="Issue the quote.")
    if hasattr(quote, "acceptance"):
        return Finding(done=True, note=f"Quote {quote.number} accepted", todo="")
    if DECLINED in happened:
        todo = f"Quote {quote.number} is declined: read why, and issue another if it is worth it."
        return Finding(done=False, note=f"Quote {quote.number} declined", todo=todo)
    if happened.isdisjoint(SENT):
        todo = f"Send quote {quote.number}, by text or by mail, or record the client's word on it."
        return Finding(done=False, note=f"Quote {quote.number} issued", todo=todo)
    todo = f"Wait for the client's word on quote {quote.number}, or record it when they call."
    return Finding(done=False, note=f"Quote {quote.number} sent", todo=todo)


def _reviews(jobs: Sequence[Job]) -> dict[int, Finding]:
    return {job.pk: _review(job) for job in jobs}


def _review(job: Job) -> Finding:
    if job.closed_at is not None:
        closed = day_of(job.closed_at, job.company)
        return Finding(done=True, note=f"Closed {closed:%b} {closed.day}", todo="")
    todo = "Enter the purchases, look at the review and close the job."
    return Finding(done=False, note="", todo=todo)
