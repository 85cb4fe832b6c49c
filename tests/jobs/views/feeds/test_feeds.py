"""The page of calendar links, and the calendar that a link opens."""

from __future__ import annotations

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from icalendar import Calendar

from jobs.clock import today_of
from jobs.models import CalendarFeed, Crew, Job, Role, User
from jobs.services.feeds.links import open_feed
from tests.builders import make_crew, make_day, make_person
from tests.jobs.agreed import agreed_job, make_scope
from tests.queries import assert_same_queries

pytestmark = pytest.mark.django_db


@pytest.fixture
def job() -> Job:
    return agreed_job()


@pytest.fixture
def owner(job: Job) -> User:
    return make_person(job.company)


@pytest.fixture
def crew(job: Job) -> Crew:
    return make_crew(job.company, make_person(job.company, Role.CREW))


def signed_in(person: User) -> Visitor:
    visitor = Visitor()
    visitor.force_login(person)
    return visitor


def test_a_link_opens_the_calendar_without_a_sign_in(job: Job, crew: Crew, owner: User) -> None:
    make_day(job, crew, scope=job.agreed_scope, date=today_of(job.company))
    feed = open_feed(company=job.company, user=owner, version=0, crew=crew)
    answer = Visitor().get(reverse("feed", args=[feed.token]))
    assert answer["Content-Type"] == "text/calendar; charset=utf-8"
    event = Calendar.from_ical(answer.content.decode()).walk("VEVENT")[0]
    assert str(event["SUMMARY"]) == f"Job {job.number}: {job.title}, day 1"
    feed.refresh_from_db()
    assert feed.read_at is not None


def test_a_wrong_word_opens_nothing() -> None:
    assert Visitor().get(reverse("feed", args=["x" * 43])).status_code == 404


def test_a_crew_member_makes_and_revokes_the_link_of_their_days_alone(
    crew: Crew, owner: User
) -> None:
    member = crew.members.get()
    visitor = signed_in(member)
    visitor.post(reverse("feed-person"), {"version": "0"})
    feed = CalendarFeed.objects.get()
    page = visitor.get(reverse("feed-list")).content.decode()
    assert feed.token in page
    assert '<h2 id="calendar-2">' not in page
    visitor.post(reverse("feed-revoke", args=[feed.pk]))
    assert Visitor().get(reverse("feed", args=[feed.token])).status_code == 404
    assert "it opens nothing" in visitor.get(reverse("feed-list")).content.decode()


def test_the_owner_makes_the_link_of_a_crew(crew: Crew, owner: User) -> None:
    visitor = signed_in(owner)
    visitor.post(reverse("feed-crew", args=[crew.pk]), {"version": "0"})
    feed = CalendarFeed.objects.get(crew=crew)
    assert feed.token in visitor.get(reverse("feed-list")).content.decode()


def test_a_version_that_is_no_number_renews_nothing(owner: User) -> None:
    visitor = signed_in(owner)
    for typed in ("0", "two", "9" * 40, ""):
        visitor.post(reverse("feed-person"), {"version": typed})
    assert CalendarFeed.objects.get().version == 1


def test_a_calendar_of_many_days_asks_no_more_often(job: Job, crew: Crew, owner: User) -> None:
    feed = open_feed(company=job.company, user=owner, version=0, crew=crew)

    def more(count: int) -> None:
        for _ in range(count):
            another = agreed_job(job.company)
            make_day(another, crew, scope=make_scope(another), date=today_of(job.company))
        Visitor().get(reverse("feed", args=[feed.token]))

    assert_same_queries(Visitor(), reverse("feed", args=[feed.token]), more)
