"""Jobs archived and removed on their pages, and what was removed brought back."""

from __future__ import annotations

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import Client, Job, Removal, Room, User
from tests.builders import make_client, make_company, make_job, make_room
from tests.jobs.agreed import make_scope
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner: User) -> Job:
    """A job with one room."""
    assert owner.company is not None
    job = make_job(owner.company)
    make_room(job)
    return job


def test_archiving_is_undone_by_the_button_beside_its_message(visitor: Visitor, job: Job) -> None:
    page = words(visitor.post(reverse("job-archive", args=[job.pk]), follow=True))
    undo = reverse("job-unarchive", args=[job.pk])
    assert f'action="{undo}"' in page
    assert job.title not in words(visitor.get(reverse("job-list"))).split("<main")[1]
    visitor.post(undo)
    assert job.title in words(visitor.get(reverse("job-list")))


def test_removing_a_room_is_undone_by_the_button_beside_its_message(
    visitor: Visitor, job: Job
) -> None:
    room = job.rooms.get()
    page = words(visitor.post(reverse("room-remove", args=[room.pk]), follow=True))
    undo = reverse("removed-restore", args=[Removal.objects.get().pk])
    assert f'action="{undo}"' in page
    answer = visitor.post(undo)
    assert answer["Location"] == reverse("room-edit", args=[room.pk])
    assert Room.objects.get() == room


def test_a_removed_job_is_brought_back_from_the_list(visitor: Visitor, job: Job) -> None:
    visitor.post(reverse("job-remove", args=[job.pk]))
    assert not Job.objects.exists()
    page = words(visitor.get(reverse("removed-list")))
    assert str(job) in page
    visitor.post(reverse("removed-restore", args=[Removal.objects.get().pk]))
    assert Job.objects.get().rooms.count() == 1
    assert str(job) not in words(visitor.get(reverse("removed-list"))).split("<h1")[1]


def test_a_job_with_a_scope_is_offered_to_be_archived(visitor: Visitor, job: Job) -> None:
    make_scope(job)
    page = words(visitor.get(reverse("job-remove", args=[job.pk])))
    assert "1 frozen scope" in page
    assert reverse("job-archive", args=[job.pk]) in page
    answer = visitor.post(reverse("job-remove", args=[job.pk]))
    assert answer.status_code == 422
    assert "Archive it instead" in words(answer)
    assert Job.objects.exists()


def test_a_client_with_a_job_stays(visitor: Visitor, job: Job) -> None:
    answer = visitor.post(reverse("client-remove", args=[job.client_id]))
    assert answer.status_code == 422
    assert f"needed by {job}" in words(answer)
    assert Client.objects.exists()


def test_what_cant_come_back_says_why(visitor: Visitor, job: Job) -> None:
    visitor.post(reverse("room-remove", args=[job.rooms.get().pk]))
    removal = Removal.objects.get()
    visitor.post(reverse("job-remove", args=[job.pk]))
    page = words(visitor.post(reverse("removed-restore", args=[removal.pk]), follow=True))
    assert "of a job that is gone" in page
    assert not Room.objects.exists()


def test_html_in_a_name_stays_text(visitor: Visitor, owner: User) -> None:
    assert owner.company is not None
    client = make_client(owner.company, "<i>Ines</i>")
    page = words(visitor.post(reverse("client-remove", args=[client.pk]), follow=True))
    page += words(visitor.get(reverse("removed-list")))
    assert "<i>Ines" not in page
    assert "&lt;i&gt;Ines" in page


def test_what_another_company_removed_is_hidden(visitor: Visitor, job: Job) -> None:
    other = make_company("Other Floors")
    removal = Removal.objects.create(company=other, kind="room", row=1, label="Vault", rows="[]")
    assert "Vault" not in words(visitor.get(reverse("removed-list")))
    assert visitor.post(reverse("removed-restore", args=[removal.pk])).status_code == 404
