"""The homeowner's own days behind the link: what is said, what changed, who gets in."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from django.utils import timezone

from estimates.models import Quote
from estimates.services.sending.answers import record_acceptance
from jobs.clock import today_of
from jobs.models import Job, Mail, Role, SiteFacts, User
from jobs.services.days import Wish, lay_out_days
from jobs.services.mail.outbox import LINK
from jobs.services.moved_days.replan import DayMove, seen_as
from jobs.services.moved_days.saving import save_change, undo_change
from tests.builders import make_crew, make_person
from tests.estimates.a_job import a_quote, accepted
from tests.estimates.trade_words import trade_words
from tests.jobs.agreed import agree, make_scope
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def quote(owner: User) -> Quote:
    """An accepted quote whose job lies on days from the next Monday on."""
    quote = a_quote(owner)
    accepted(quote)
    quote.refresh_from_db()
    job = Job.objects.get(pk=quote.job_id)
    lay_out(job, owner)
    return Quote.objects.get(pk=quote.pk)


def lay_out(job: Job, owner: User) -> None:
    today = today_of(job.company)
    monday = today + timedelta(days=7 - today.weekday())
    while monday.month in (1, 2, 5, 6, 7, 9, 10, 11, 12):
        monday += timedelta(days=7)
    crew = make_crew(job.company, make_person(job.company, Role.CREW))
    lay_out_days(job=job, user=owner, wish=Wish(crew=crew, start=monday), today=today)


def at(quote: Quote) -> str:
    return reverse("quote-public-home", args=[quote.token])


def said(quote: Quote) -> str:
    answer = Visitor().get(at(quote))
    assert answer.status_code == 200
    return words(answer)


def lose_day(quote: Quote, owner: User) -> None:
    job = Job.objects.get(pk=quote.job_id)
    day = job.days.select_related("job__company", "crew", "scope__document").earliest("date")
    save_change(
        move=DayMove(kind="lost", day=day),
        user=owner,
        key="lost",
        reason="The truck broke down",
        seen=seen_as(job.days.order_by("date")),
        today=today_of(job.company),
    )


def test_the_days_say_when_we_come_and_nothing_of_the_trade_or_money(quote: Quote) -> None:
    page, first = said(quote), quote.job.days.earliest("date").date
    # From 8 o’clock the material is fetched, then comes the drive.
    assert "9:30 AM, every day" in page
    assert "Your quote said 8:30; now we come at 9:30 AM." in page
    assert f"{first:%a}, {first:%b} {first.day}" in page
    assert "can be used every night" in page
    for word in ("$", "crew", "Lay the floor", "scope"):
        assert word not in page
    assert trade_words(page) == []


def test_a_day_with_an_hour_of_its_own_says_it_beside_the_quotes(
    quote: Quote, monkeypatch: pytest.MonkeyPatch
) -> None:
    second = quote.job.days.earliest("date")
    second.pk, second.number, second.date = None, 2, second.date + timedelta(days=1)
    second.save()
    monkeypatch.setattr(
        "estimates.readers.at_home.page.arrives_words",
        lambda day: "7:30 AM" if day.number == 1 else "8:30 AM",
    )
    page = said(quote)
    apart = "Your quote said 8:30; on this day we come at 7:30 AM."
    assert f"We arrive about 7:30 AM. {apart}" in page
    assert page.count("on this day we come at") == 1


def test_what_the_visit_noted_is_cleared_by_name(quote: Quote) -> None:
    SiteFacts.objects.filter(job=quote.job).update(
        aquarium="60 gal, den", piano="upright, hall", electronics="TV wall", pets="One dog"
    )
    page = said(quote)
    for line in (
        "The aquarium (60 gal, den)",
        "The piano (upright, hall)",
        "Electronics (TV wall)",
    ):
        assert line in page
    assert "One dog." in page


def test_days_that_were_moved_since_are_said_with_both_dates(quote: Quote, owner: User) -> None:
    assert "Changed since you accepted" not in said(quote)
    was = quote.job.days.earliest("date").date
    lose_day(quote, owner)
    page, now = said(quote), quote.job.days.earliest("date").date
    assert "Changed since you accepted" in page
    assert (
        f"Day 1 was {was:%a}, {was:%b} {was.day}; it is {now:%a}, {now:%b} {now.day} now." in page
    )
    assert "truck" not in page


def test_a_change_that_was_undone_is_not_said(quote: Quote, owner: User) -> None:
    lose_day(quote, owner)
    change = quote.job.days_changes.get()
    undo_change(change=change, user=owner, today=today_of(quote.job.company))
    assert "Changed since you accepted" not in said(quote)


def test_days_of_an_earlier_scope_say_that_they_are_planned_again(quote: Quote) -> None:
    job = Job.objects.get(pk=quote.job_id)
    agree(job, make_scope(job))
    assert "The days are being planned again" in said(quote)


def test_before_the_word_and_before_the_days_a_sentence_says_so(owner: User) -> None:
    quote = a_quote(owner)
    assert "once you have accepted the quote" in said(quote)
    accepted(quote)
    assert "No day is planned yet" in said(quote)


def test_a_withdrawn_quote_has_no_days(quote: Quote) -> None:
    Quote.objects.filter(pk=quote.pk).update(withdrawn_at=timezone.now())
    assert Visitor().get(at(quote)).status_code == 404


def test_a_link_past_its_day_or_revoked_opens_no_days(quote: Quote) -> None:
    address = at(quote)
    quote.links.update(expires_on=date(2027, 1, 1) - timedelta(days=365 * 5))
    assert Visitor().get(address).status_code == 404
    quote.links.update(expires_on=None, revoked_at=timezone.now())
    assert Visitor().get(address).status_code == 404
    assert "This link opens nothing" in words(Visitor().get(address))


def test_nobody_guesses_a_link_and_nothing_is_sent_to_the_page(quote: Quote) -> None:
    assert Visitor().get(reverse("quote-public-home", args=["x" * 43])).status_code == 404
    assert Visitor().post(at(quote)).status_code == 405


def test_the_quote_leads_to_the_days_once_they_are_planned(quote: Quote) -> None:
    page = Visitor().get(reverse("quote-public", args=[quote.token])).content.decode()
    assert f'href="{at(quote)}"' in page


def test_the_mail_that_confirms_leads_to_the_days(owner: User) -> None:
    quote = a_quote(owner)
    quote.job.client.email = "ines@example.com"
    quote.job.client.save()
    record_acceptance(
        quote=quote, name="Ines Okafor", choice="", today=date(2027, 3, 1), user=owner
    )
    mail = Mail.objects.get(kind="quote-copy")
    assert f"{LINK}/days\n" in mail.text
