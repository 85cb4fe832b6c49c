"""What the homeowner's page sends by itself: seen by a person alone, and the days as a file."""

from __future__ import annotations

from datetime import date

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from icalendar import Calendar

from estimates.models import Quote
from estimates.readers.sending.states import state_of
from jobs.models import Job, User
from tests.estimates.a_job import a_day, a_quote, accepted
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def quote(owner: User) -> Quote:
    return a_quote(owner)


def at(quote: Quote, name: str) -> str:
    return reverse(name, args=[quote.token])


def test_looking_in_notes_nothing_whatever_program_does_it(quote: Quote) -> None:
    scanner = Visitor()
    for name in ("quote-public", "quote-public-file", "quote-public-seen", "quote-public-days"):
        for look in (scanner.get, scanner.head, scanner.options):
            look(at(quote, name))
    assert not quote.events.exists()


def test_the_word_that_it_is_in_sight_is_noted_once(quote: Quote) -> None:
    visitor = Visitor()
    answers = [visitor.post(at(quote, "quote-public-seen")).status_code for _ in range(2)]
    assert answers == [204, 204]
    assert quote.events.get().kind == "seen"
    assert state_of(quote, quote.valid_until) == "seen"


def test_a_stranger_to_the_page_cannot_say_that_it_was_seen(quote: Quote) -> None:
    visitor = Visitor(enforce_csrf_checks=True)
    assert visitor.post(at(quote, "quote-public-seen")).status_code == 403
    assert visitor.post(reverse("quote-public-seen", args=["x" * 43])).status_code == 403
    assert not quote.events.exists()


def test_the_planned_days_are_a_calendar_file_without_hours_or_prices(quote: Quote) -> None:
    accepted(quote)
    job = Job.objects.get(pk=quote.job_id)
    a_day(job, 2, a_day(job, 1).crew)
    answer = Visitor().get(at(quote, "quote-public-days"))
    assert answer["Content-Type"].startswith("text/calendar")
    events = Calendar.from_ical(answer.content).walk("VEVENT")
    assert [event.decoded("dtstart") for event in events] == [date(2027, 3, 8), date(2027, 3, 9)]
    assert "We arrive about 8:30 AM" in str(events[0]["description"])
    assert str(events[0]["summary"]) == "Fernwood Floors: day 1 of your floor"
    for word in (b"$", b"crew", b"hour"):
        assert word not in answer.content.replace(b"Days of a crew", b"")


def test_before_days_are_planned_a_sentence_says_so_and_there_is_no_file(quote: Quote) -> None:
    answer = Visitor().get(at(quote, "quote-public-days"))
    assert "once you have accepted the quote" in words(answer)
    accepted(quote)
    answer = Visitor().get(at(quote, "quote-public-days"))
    assert answer["Content-Type"].startswith("text/html")
    assert "Content-Disposition" not in answer
    assert "No day is planned yet" in words(answer)
    assert "Fernwood Floors will call you about the dates" in words(answer)


def test_somebody_elses_days_are_not_opened_by_a_guess(quote: Quote) -> None:
    assert Visitor().get(reverse("quote-public-days", args=["x" * 43])).status_code == 404


def test_whoever_sent_the_quote_does_not_see_it_for_the_homeowner(
    visitor: Visitor, quote: Quote
) -> None:
    page = visitor.get(at(quote, "quote-public")).content.decode()
    assert at(quote, "quote-public-seen") not in page
    assert visitor.post(at(quote, "quote-public-seen")).status_code == 204
    assert not quote.events.exists()
    assert (
        at(quote, "quote-public-seen") in Visitor().get(at(quote, "quote-public")).content.decode()
    )
