"""Who may measure rooms."""

from __future__ import annotations

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import Job, Role, Room
from tests.builders import make_company, make_job, make_person, make_room
from tests.jobs.room_sheets import FOUR, sheet

pytestmark = pytest.mark.django_db


@pytest.fixture
def job() -> Job:
    """A job of a company, in feet and inches."""
    return make_job(make_company())


def test_a_crew_member_measures_no_rooms(job: Job) -> None:
    visitor = Visitor()
    visitor.force_login(make_person(job.company, Role.CREW))
    answer = visitor.post(reverse("room-add", args=[job.pk]), sheet(*FOUR))
    assert answer.status_code == 403


def test_a_stranger_finds_no_rooms(job: Job) -> None:
    visitor = Visitor()
    visitor.force_login(make_person(make_company("Other Floors")))
    assert visitor.get(reverse("room-edit", args=[make_room(job).pk])).status_code == 404


def test_an_estimator_measures_rooms(job: Job) -> None:
    visitor = Visitor()
    visitor.force_login(make_person(job.company, Role.ESTIMATOR))
    visitor.post(reverse("room-add", args=[job.pk]), sheet(*FOUR))
    assert Room.objects.filter(job=job).count() == 1
