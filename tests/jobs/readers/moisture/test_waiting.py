"""A slab that nobody has read waits on the office, at home and where material is bought."""

from __future__ import annotations

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import Job, SiteFacts, User
from jobs.readers.today import waiting_for
from tests.builders import make_company, make_person, make_product, make_room
from tests.builders import make_zone as floor_of
from tests.jobs.agreed import agreed_job

pytestmark = pytest.mark.django_db

UNREAD = (
    "No moisture reading yet. Clears it: whoever reads the subfloor; a reading within the limit "
    "opens it"
)
READ = {"method": "rh", "value": "71", "where": "Den", "on": "2027-02-20"}


@pytest.fixture
def owner() -> User:
    return make_person(make_company())


@pytest.fixture
def job(owner: User) -> Job:
    """An agreed job on a slab."""
    assert owner.company is not None
    job = agreed_job(owner.company)
    floor_of(make_room(job), make_product(job.company, name="Oak", core="rigid", most_rh_pct=85))
    SiteFacts.objects.filter(job=job).update(subfloor="slab", existing_floor="none", readings=[])
    return job


def lines(job: Job) -> list[str]:
    return [line.text for line in waiting_for(job.company) if line.kind == "moisture"]


def test_an_agreed_job_whose_slab_nobody_read_waits_at_home(job: Job) -> None:
    assert lines(job) == [f"HOLD before the order of job {job.number}, {job.title}: {UNREAD}"]
    SiteFacts.objects.filter(job=job).update(readings=[READ])
    assert lines(job) == []


def test_where_material_is_bought_the_hold_stands_until_the_reading(job: Job, owner: User) -> None:
    visitor = Visitor()
    visitor.force_login(owner)
    address = reverse("purchase-list", args=[job.pk])
    held = "HOLD before the order: No moisture reading yet"
    assert held in visitor.get(address).content.decode()
    SiteFacts.objects.filter(job=job).update(readings=[READ])
    assert held not in visitor.get(address).content.decode()
