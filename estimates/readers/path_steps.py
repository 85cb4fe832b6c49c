"""The steps of a job's path that are about money: Price, Quote, Review."""

from __future__ import annotations

from jobs.clock import day_of
from jobs.models import Job
from jobs.readers import path


def register() -> None:
    """Give the path its money steps."""
    path.register("Price", url_name="job-price", office_only=True, look=_price)
    path.register("Quote", url_name="job-quotes", office_only=True, look=_quote)
    path.register("Review", url_name="job-review", office_only=True, look=_review)


def _price(job: Job) -> path.Finding:
    estimate = job.estimates.first()
    if estimate is None:
        return path.Finding(done=False, note="", todo="Price the job.")
    return path.Finding(done=True, note=f"Estimate {estimate.number}", todo="")


def _quote(job: Job) -> path.Finding:
    quote = job.quotes.select_related("acceptance").first()
    if quote is None:
        return path.Finding(done=False, note="", todo="Issue the quote.")
    if hasattr(quote, "acceptance"):
        return path.Finding(done=True, note=f"Quote {quote.number} accepted", todo="")
    todo = f"Wait for the client's word on quote {quote.number}, or record it when they call."
    return path.Finding(done=False, note=f"Quote {quote.number} issued", todo=todo)


def _review(job: Job) -> path.Finding:
    if job.closed_at is not None:
        closed = day_of(job.closed_at, job.company)
        return path.Finding(done=True, note=f"Closed {closed:%b} {closed.day}", todo="")
    todo = "Enter the purchases, look at the review and close the job."
    return path.Finding(done=False, note="", todo=todo)
