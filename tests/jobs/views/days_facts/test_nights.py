"""The page where the office notes which rooms may be open for nights."""

from __future__ import annotations

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import Job, Room
from tests.builders import make_company, make_job, make_person, make_room, make_zone

pytestmark = pytest.mark.django_db


@pytest.fixture
def job() -> Job:
    """A job with a bedroom on a floor."""
    job = make_job(make_company())
    make_zone(make_room(job, name="Bedroom"))
    return job


@pytest.fixture
def visitor(job: Job) -> Visitor:
    """The owner."""
    visitor = Visitor()
    visitor.force_login(make_person(job.company))
    return visitor


def sent(visitor: Visitor, job: Job, **fields: object) -> object:
    data = {"key": "k", "by": "Ida Moor", "on": "2020-03-01", **fields}
    return visitor.post(reverse("job-nights", args=[job.pk]), data)


def bedroom(job: Job) -> Room:
    return job.rooms.get()


def test_a_room_is_ticked_and_shown_so_again(visitor: Visitor, job: Job) -> None:
    sent(visitor, job, rooms=[bedroom(job).pk])
    assert job.agreed_nights.get().room == bedroom(job)
    page = visitor.get(reverse("job-nights", args=[job.pk])).content.decode()
    assert "As many as it takes: Ida Moor, Mar 1" in page
    assert "checked" in page


def test_nothing_typed_is_lost_where_nobody_is_named(visitor: Visitor, job: Job) -> None:
    answer = sent(visitor, job, rooms=[bedroom(job).pk], by="")
    page = answer.content.decode()  # type: ignore[attr-defined]
    assert "accepted: the name of whoever lives there" in page
    assert "checked" in page
    assert not job.agreed_nights.exists()


def test_a_day_ahead_is_refused(visitor: Visitor, job: Job) -> None:
    answer = sent(visitor, job, whole_job="on", on="2099-01-01")
    assert "2099-01-01 lies ahead" in answer.content.decode()  # type: ignore[attr-defined]


def test_whether_the_bath_is_the_only_one_is_said(visitor: Visitor, job: Job) -> None:
    page = visitor.get(reverse("job-nights", args=[job.pk])).content.decode()
    assert "is not known yet" in page
