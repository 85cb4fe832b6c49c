"""What a saved room does to the trim of its walls."""

from __future__ import annotations

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import Job, TrimRun, User
from tests.builders import make_job
from tests.jobs.room_sheets import FOUR, sheet

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner: User) -> Job:
    """A job of the owner's company, in feet and inches."""
    assert owner.company is not None
    return make_job(owner.company)


def test_base_is_derived_where_it_is_replaced(visitor: Visitor, job: Job) -> None:
    visitor.post(reverse("room-add", args=[job.pk]), sheet(*FOUR))
    assert TrimRun.objects.filter(kind="base").count() == 4


def test_a_room_without_base_has_no_runs(visitor: Visitor, job: Job) -> None:
    visitor.post(reverse("room-add", args=[job.pk]), sheet(*FOUR, base="none"))
    assert not TrimRun.objects.exists()


def test_shoe_is_derived_beside_base(visitor: Visitor, job: Job) -> None:
    visitor.post(reverse("room-add", args=[job.pk]), sheet(*FOUR, shoe="on"))
    assert TrimRun.objects.filter(kind="shoe").count() == 4
