"""Copies on their pages: refused by the field, sent twice, escaped."""

from __future__ import annotations

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from django.utils import timezone

from jobs.models import Company, Job, Room, User
from tests.builders import make_company, make_job, make_room, make_zone
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner: User) -> Job:
    """A job with one room in a floor."""
    assert owner.company is not None
    job = make_job(owner.company)
    Company.objects.update(next_job_number=job.number + 1)
    make_zone(make_room(job))
    return job


def test_a_room_goes_into_the_job_whose_number_is_typed(visitor: Visitor, job: Job) -> None:
    to = make_job(job.company)
    room = job.rooms.get()
    sent = {"key": "1", "name": "Den", "number": str(to.number)}
    visitor.post(reverse("room-copy", args=[room.pk]), sent)
    visitor.post(reverse("room-copy", args=[room.pk]), sent)
    assert [new.name for new in to.rooms.all()] == ["Den"]


def test_the_form_offers_a_free_name_and_this_job(visitor: Visitor, job: Job) -> None:
    page = words(visitor.get(reverse("room-copy", args=[job.rooms.get().pk])))
    assert 'value="Den 2"' in page
    assert f'value="{job.number}"' in page


@pytest.mark.parametrize(
    ("number", "message"),
    [
        ("999", "No job has the number 999"),
        ("", "Nothing was typed"),
        ("abc", "can't be used"),
        ("0", "can't be used"),
    ],
)
def test_the_number_of_no_job_is_refused_by_its_field(
    visitor: Visitor, job: Job, number: str, message: str
) -> None:
    sent = {"key": "1", "name": "Twin", "number": number}
    answer = visitor.post(reverse("room-copy", args=[job.rooms.get().pk]), sent)
    assert answer.status_code == 422
    assert message in words(answer)
    assert 'value="Twin"' in words(answer)


def test_copying_into_a_closed_job_is_refused(visitor: Visitor, job: Job) -> None:
    to = make_job(job.company, closed_at=timezone.now())
    sent = {"key": "1", "number": str(to.number)}
    answer = visitor.post(reverse("zone-copy", args=[job.zones.get().pk]), sent)
    assert answer.status_code == 422
    assert f"Job {to.number}, a closed job; accepted: the number of an open job." in words(answer)
    assert not to.rooms.exists()


def test_a_job_of_another_company_is_none(visitor: Visitor, job: Job) -> None:
    other = make_job(make_company("Other Floors"))
    sent = {"key": "1", "number": str(other.number)}
    answer = visitor.post(reverse("zone-copy", args=[job.zones.get().pk]), sent)
    assert f"No job has the number {other.number}" in words(answer)


def test_each_line_becomes_a_job_and_html_stays_text(visitor: Visitor, job: Job) -> None:
    sent = {"key": "1", "client": job.client_id, "title": "<b>Plan B</b>"}
    sent |= {"addresses": "12 Larch Court\r\n<i>14</i> Larch Court"}
    page = words(visitor.post(reverse("job-copy", args=[job.pk]), sent, follow=True))
    assert Job.objects.count() == 3
    assert Room.objects.count() == 3
    assert "<b>Plan" not in page
    assert "&lt;b&gt;Plan B" in page
    assert "<i>14" not in page


@pytest.mark.parametrize(
    ("addresses", "message"),
    [
        ("", "This field is required"),
        ("12 Larch Court\n12 larch court", "line 2, for the second time"),
        ("\n".join(f"{n} Larch Court" for n in range(41)), "41 addresses"),
    ],
)
def test_addresses_are_refused_by_their_field(
    visitor: Visitor, job: Job, addresses: str, message: str
) -> None:
    sent = {"key": "1", "client": job.client_id, "title": "Plan B", "addresses": addresses}
    answer = visitor.post(reverse("job-copy", args=[job.pk]), sent)
    assert answer.status_code == 422
    if message != "This field is required":
        assert message in words(answer)
    assert Job.objects.count() == 1
