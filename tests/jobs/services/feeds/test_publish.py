"""What a calendar link publishes: identities stay, sequences rise, what falls away is canceled."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from icalendar import Calendar

from jobs.calendar import feed_calendar
from jobs.clock import time_zone_of
from jobs.models import CalendarFeed, Crew, Job, PublishedDay, User
from jobs.services.feeds.links import open_feed
from jobs.services.feeds.publish import publish
from tests.builders import make_company, make_crew, make_day, make_person
from tests.jobs.agreed import MONDAY, a_crew, agreed_job, laid_out, make_scope

pytestmark = pytest.mark.django_db

NOW = datetime(2027, 2, 20, 17, tzinfo=UTC)
LATER = NOW + timedelta(hours=3)


@pytest.fixture
def job() -> Job:
    return agreed_job()


@pytest.fixture
def crew(job: Job) -> Crew:
    return a_crew(job.company)


@pytest.fixture
def owner(job: Job) -> User:
    return make_person(job.company)


@pytest.fixture
def feed(job: Job, crew: Crew, owner: User) -> CalendarFeed:
    return open_feed(company=job.company, user=owner, version=0, crew=crew)


def read(feed: CalendarFeed, now: datetime = NOW) -> list[Any]:
    """The events that a calendar program reads."""
    stream = feed_calendar(
        name="Days", zone=time_zone_of(feed.company), events=publish(feed=feed, now=now)
    )
    return list(Calendar.from_ical(stream.decode()).walk("VEVENT"))


def on(event: Any) -> date:
    """The date on which an event begins, in its own zone."""
    start = event["DTSTART"].dt
    return date(start.year, start.month, start.day)


def standing(events: list[Any]) -> dict[str, tuple[int, date, str]]:
    """Sequence, date and status of every event by its identity."""
    return {
        str(event["UID"]): (event["SEQUENCE"], on(event), str(event["STATUS"])) for event in events
    }


def test_read_twice_nothing_changes(job: Job, crew: Crew, feed: CalendarFeed) -> None:
    laid_out(job, crew)
    first, second = standing(read(feed)), standing(read(feed, LATER))
    assert first == second
    # 25 hours of one person at eight a day: Monday to Thursday.
    days = [MONDAY + timedelta(days=number) for number in range(4)]
    assert list(first.values()) == [(0, day, "CONFIRMED") for day in days]


def test_a_move_keeps_the_identities_and_raises_the_sequence(
    job: Job, crew: Crew, feed: CalendarFeed
) -> None:
    laid_out(job, crew)
    before = standing(read(feed))
    laid_out(job, crew, start=MONDAY + timedelta(days=7))
    after = standing(read(feed, LATER))
    week = timedelta(days=7)
    assert after == {
        uid: (sequence + 1, day + week, status) for uid, (sequence, day, status) in before.items()
    }


def test_what_did_not_change_keeps_its_sequence_and_its_moment(
    job: Job, crew: Crew, feed: CalendarFeed
) -> None:
    first = laid_out(job, crew)[0]
    read(feed)
    first.entries[0]["label"] = "Cover the way in"
    first.save()
    events = read(feed, LATER)
    assert [event["SEQUENCE"] for event in events] == [1, 0, 0, 0]
    assert [event["DTSTAMP"].dt for event in events] == [LATER, NOW, NOW, NOW]


def test_hours_are_those_of_the_clock_in_the_zone_of_the_company(
    job: Job, crew: Crew, feed: CalendarFeed
) -> None:
    # Clocks of New York go forward on Sunday, March 14, 2027 (15 U.S.C. 260a: the second Sunday of
    # March). The crew arrives at 8:30 on either side of it: at 13:30 and at 12:30 UTC.
    for number, day in ((1, date(2027, 3, 12)), (2, date(2027, 3, 15))):
        make_day(job, crew, scope=job.agreed_scope, number=number, date=day, hours=8)
    events = read(feed)
    assert [event["DTSTART"].params["TZID"] for event in events] == ["America/New_York"] * 2
    starts = [event["DTSTART"].dt for event in events]
    assert starts == [
        datetime(2027, 3, 12, 13, 30, tzinfo=UTC),
        datetime(2027, 3, 15, 12, 30, tzinfo=UTC),
    ]
    # Eight hours of one person.
    assert {event["DTEND"].dt - event["DTSTART"].dt for event in events} == {timedelta(hours=8)}


def test_the_rules_of_the_zone_are_in_the_calendar(
    job: Job, crew: Crew, feed: CalendarFeed
) -> None:
    laid_out(job, crew)
    events = publish(feed=feed, now=NOW)
    stream = feed_calendar(name="Days", zone=time_zone_of(job.company), events=events)
    zones = Calendar.from_ical(stream.decode()).walk("VTIMEZONE")
    assert [str(zone["TZID"]) for zone in zones] == ["America/New_York"]
    assert {part.name for part in zones[0].subcomponents} == {"STANDARD", "DAYLIGHT"}


def test_a_day_that_falls_away_is_canceled_and_comes_back(
    job: Job, crew: Crew, feed: CalendarFeed
) -> None:
    last = laid_out(job, crew)[-1]
    uid = [*standing(read(feed))][-1]
    last.delete()
    assert standing(read(feed, LATER))[uid] == (1, MONDAY + timedelta(days=3), "CANCELLED")
    make_day(job, crew, scope=last.scope, number=4, date=last.date)
    assert standing(read(feed, LATER))[uid] == (2, MONDAY + timedelta(days=3), "CONFIRMED")


def test_a_day_that_another_crew_takes_leaves_one_calendar_for_the_other(
    job: Job, crew: Crew, feed: CalendarFeed, owner: User
) -> None:
    day = make_day(job, crew, scope=job.agreed_scope, date=MONDAY)
    other = make_crew(job.company, make_person(job.company))
    others = open_feed(company=job.company, user=owner, version=0, crew=other)
    read(feed)
    day.crew = other
    day.save()
    assert [status for *_, status in standing(read(feed)).values()] == ["CANCELLED"]
    assert [status for *_, status in standing(read(others)).values()] == ["CONFIRMED"]


def test_a_person_has_the_days_of_every_crew_they_are_in_and_of_no_other(
    job: Job, crew: Crew, owner: User
) -> None:
    person = crew.members.get()
    second = make_crew(job.company, person)
    strange = a_crew(job.company)
    scope = make_scope(job)
    for number, each in enumerate((crew, second, strange)):
        make_day(job, each, scope=scope, number=number + 1, date=MONDAY + timedelta(days=number))
    feed = open_feed(company=job.company, user=person, version=0)
    assert [day for _, day, _ in standing(read(feed)).values()] == [
        MONDAY,
        MONDAY + timedelta(days=1),
    ]
    second.members.remove(person)
    assert [status for *_, status in standing(read(feed)).values()] == ["CONFIRMED", "CANCELLED"]


def test_another_companys_days_are_in_no_calendar_of_ours(feed: CalendarFeed) -> None:
    theirs = agreed_job(make_company("Other Floors"))
    laid_out(theirs, a_crew(theirs.company))
    assert read(feed) == []


def test_neither_ways_in_nor_phones_are_published(job: Job, crew: Crew, feed: CalendarFeed) -> None:
    job.site.access, job.client.phone = "Door code 4711", "555-0144"
    job.site.save()
    job.client.save()
    laid_out(job, crew)
    said = "".join(event.to_ical().decode() for event in read(feed))
    assert "4711" not in said
    assert "555-0144" not in said
    assert str(job.client) not in said


def test_days_long_over_are_left_out_and_never_canceled(
    job: Job, crew: Crew, feed: CalendarFeed
) -> None:
    make_day(job, crew, scope=job.agreed_scope, date=MONDAY)
    read(feed)
    long_after = NOW + timedelta(days=100)
    assert read(feed, long_after) == []
    assert not PublishedDay.objects.get().canceled
