"""The week that an accepted quote promises, and the board that holds the days against it."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from estimates.models import Quote, QuoteDraft
from estimates.readers.draft.start import promised_weeks
from jobs.readers.board.board import conflicts_of
from tests.builders import make_crew, make_day
from tests.estimates.a_job import TODAY, a_quote, accepted, an_owner

pytestmark = pytest.mark.django_db

# A Wednesday, in the week of Monday, March 22, 2027.
WEDNESDAY = date(2027, 3, 24)
MONDAY = date(2027, 3, 22)


@pytest.fixture
def quote() -> Quote:
    """A quote whose draft names the week of a Wednesday."""
    quote = a_quote(an_owner())
    QuoteDraft.objects.update_or_create(job=quote.job, defaults={"start_week": WEDNESDAY})
    return quote


def test_an_accepted_quote_promises_its_week_from_monday_to_sunday(quote: Quote) -> None:
    accepted(quote)
    [promise] = promised_weeks([quote.job_id])
    assert (promise.earliest, promise.latest) == (MONDAY, date(2027, 3, 28))
    assert promise.words == "The quote says the week of Mon, Mar 22."


def test_a_quote_that_is_out_promises_nothing_yet(quote: Quote) -> None:
    assert list(promised_weeks([quote.job_id])) == []


def test_a_quote_without_a_week_promises_none(quote: Quote) -> None:
    accepted(quote)
    QuoteDraft.objects.update(start_week=None)
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
