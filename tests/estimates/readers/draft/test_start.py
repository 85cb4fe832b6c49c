"""The week that an accepted quote promises, and the board that holds the days against it."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from estimates.models import Quote, QuoteDraft
from estimates.readers.draft.start import promised_weeks
from jobs.readers.board.board import conflicts_of
from tests.builders import make_crew, make_day, make_planned_job
from tests.estimates.a_job import TODAY, a_quote, accepted, an_owner, company_of

pytestmark = pytest.mark.django_db

# A Wednesday, in the week of Monday, March 22, 2027.
WEDNESDAY = date(2027, 3, 24)
MONDAY = date(2027, 3, 22)


@pytest.fixture
def quote() -> Quote:
    """A quote that names the week of a Wednesday; its draft names another one since."""
    return with_week(WEDNESDAY)


def with_week(week: date | None) -> Quote:
    """A quote issued while its draft named this week."""
    owner = an_owner()
    job = make_planned_job(company_of(owner))
    QuoteDraft.objects.create(job=job, start_week=week)
    quote = a_quote(owner, job)
    QuoteDraft.objects.update(start_week=date(2027, 5, 5))
    return quote


def test_an_accepted_quote_promises_its_week_from_monday_to_sunday(quote: Quote) -> None:
    accepted(quote)
    [promise] = promised_weeks([quote.job_id])
    assert (promise.earliest, promise.latest) == (MONDAY, date(2027, 3, 28))
    assert promise.words == "The quote says the week of Mon, Mar 22."


def test_a_quote_that_is_out_promises_nothing_yet(quote: Quote) -> None:
    assert list(promised_weeks([quote.job_id])) == []


def test_a_quote_without_a_week_promises_none() -> None:
    quote = with_week(None)
    accepted(quote)
    assert list(promised_weeks([quote.job_id])) == []


@pytest.mark.parametrize(
    ("begins", "kinds"), [(0, []), (4, []), (-3, ["promise"]), (7, ["promise"])]
)
def test_a_first_day_outside_the_week_is_a_conflict(
    quote: Quote, begins: int, kinds: list[str]
) -> None:
    accepted(quote)
    job = quote.job
    job.refresh_from_db()
    day = MONDAY + timedelta(days=begins)
    make_day(job, make_crew(job.company), scope=job.agreed_scope, date=day)
    assert [one.kind for one in conflicts_of(job.company, today=TODAY)] == kinds
