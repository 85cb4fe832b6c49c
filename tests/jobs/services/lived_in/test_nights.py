"""Nights agreed to: noted by the office or by accepting a quote, read by the days."""

from __future__ import annotations

from decimal import Decimal

import pytest

from jobs.domain.checks import BadValueError
from jobs.domain.scope.schedule import RoomNights
from jobs.domain.tasks import RoomShare
from jobs.models import AgreedNights, Crew, Job, OtherBath, Room, SiteFacts, User
from jobs.readers.lived_in.facts import lived_in_rooms, may_be_open
from jobs.readers.lived_in.nights import RoomNightsLine, nights_lines
from jobs.services.lived_in.nights import NightsWord, agree_by_quote, agree_to_nights
from tests.builders import make_company, make_job, make_person, make_room, make_zone
from tests.jobs.agreed import MONDAY, a_crew, a_task, agree, laid_out, make_scope

pytestmark = pytest.mark.django_db

ROOM = RoomShare(room="Bedroom", hours=Decimal(4))
LAID = (
    RoomShare(room="Living", hours=Decimal(8), rows=(1, 4)),
    RoomShare(room="Bedroom", hours=Decimal(8), use="bedroom", rows=(5, 8)),
)


@pytest.fixture
def owner() -> User:
    """An owner."""
    return make_person(make_company())


@pytest.fixture
def job(owner: User) -> Job:
    """A job agreed on: the bedroom's carpet out, rows 1 to 4 before it, 5 to 8 in it."""
    assert owner.company is not None
    job = make_job(owner.company)
    zone = make_zone(make_room(job, name="Living"), name="Den")
    Room.objects.filter(pk=make_room(job, name="Bedroom").pk).update(zone=zone)
    tasks = (
        a_task("tear_out", "4.00", rooms=(ROOM,)),
        a_task("lay", "16.00", after=("tear_out:Den",), rows=(1, 8), rooms=LAID),
    )
    return agree(job, make_scope(job, tasks))


@pytest.fixture
def crew(job: Job) -> Crew:
    """A crew of one."""
    return a_crew(job.company)


def room(job: Job, name: str = "Bedroom") -> Room:
    return job.rooms.get(name=name)


def agreed(job: Job, user: User, *names: str, key: str = "a", **word: bool) -> Job:
    rooms = [room(job, name).pk for name in names]
    said = {"whole_job": False, "days_off": False} | word
    spoken = NightsWord(rooms=rooms, by="Ida Moor", on=MONDAY, **said)
    return agree_to_nights(job=job, user=user, key=key, word=spoken)


def torn_out_on(job: Job) -> list[int]:
    days = job.days.order_by("number")
    return [d.number for d in days if any(e["task"] == "tear_out" for e in d.entries)]


def line(job: Job) -> RoomNightsLine:
    lines = nights_lines(job, None, list(job.days.all()))
    return next(one for one in lines if one.room == "Bedroom")


def test_days_are_laid_out_by_what_was_agreed(job: Job, owner: User, crew: Crew) -> None:
    laid_out(job, crew)
    assert torn_out_on(job) == [2]
    agreed(job, owner, "Bedroom")
    laid_out(job, crew)
    assert torn_out_on(job) == [1]
    row = job.agreed_nights.get()
    assert (row.by, row.on, row.who, row.nights) == ("Ida Moor", MONDAY, owner, None)


def test_all_rooms_of_the_job_may_be_agreed_to_at_once(job: Job, owner: User, crew: Crew) -> None:
    agreed(job, owner, whole_job=True)
    laid_out(job, crew)
    assert torn_out_on(job) == [1]


def test_a_word_of_no_room_takes_it_back(job: Job, owner: User) -> None:
    agreed(job, owner, "Bedroom")
    agreed(job, owner, key="b")
    assert may_be_open(job) == {}
    assert owner.company is not None
    line = owner.company.audit_lines.first()
    assert line is not None
    assert line.act == "Took back that rooms may be open for nights"


def test_a_word_of_nobody_and_a_strange_room_are_refused(job: Job, owner: User) -> None:
    strange = make_room(make_job(job.company), name="Attic")
    for rooms, by in (([room(job).pk], " "), ([strange.pk], "Ida Moor")):
        word = NightsWord(rooms=rooms, whole_job=False, days_off=False, by=by, on=MONDAY)
        with pytest.raises(BadValueError):
            agree_to_nights(job=job, user=owner, key=f"r{by}", word=word)
    assert not AgreedNights.objects.exists()


def test_a_quote_agrees_to_the_nights_that_it_names(job: Job, owner: User, crew: Crew) -> None:
    named = [RoomNights(room="Bedroom", use="bedroom", day=2, nights=1)]
    agree_by_quote(job=job, nights=named, quote=3, by="Ida Moor", on=MONDAY, user=None)
    laid_out(job, crew)
    assert torn_out_on(job) == [2]
    assert line(job).nights == 1
    assert not line(job).is_open
    assert line(job).agreed_words == "1 of them: Ida Moor, Mar 1, by quote 3"


def test_more_nights_than_the_quote_named_are_open(job: Job, owner: User, crew: Crew) -> None:
    named = [RoomNights(room="Bedroom", use="bedroom", day=2, nights=1)]
    agree_by_quote(job=job, nights=named, quote=3, by="Ida Moor", on=MONDAY, user=None)
    crew.hours_per_day = Decimal(4)
    crew.save()
    laid_out(job, crew)
    assert line(job).nights > 1
    assert line(job).is_open


def test_what_the_office_noted_goes_further_than_a_quote(job: Job, owner: User) -> None:
    agreed(job, owner, "Bedroom", days_off=True)
    named = [RoomNights(room="Bedroom", use="bedroom", day=2, nights=1)]
    agree_by_quote(job=job, nights=named, quote=3, by="Ida Moor", on=MONDAY, user=None)
    assert may_be_open(job) == {"Bedroom": True}


def test_a_bath_counts_as_the_only_one_until_somebody_says_otherwise(job: Job) -> None:
    bath = room(job, "Living")
    Room.objects.filter(pk=bath.pk).update(name="Bath", toilets=1)
    uses = [("Bath", "bath"), ("Bedroom", "bedroom")]
    for said, kept in ((OtherBath.UNKNOWN, uses), (OtherBath.NO, uses), (OtherBath.YES, uses[1:])):
        SiteFacts.objects.filter(job=job).update(other_bath=said)
        assert sorted((one.name, use) for one, use in lived_in_rooms(job)) == kept
