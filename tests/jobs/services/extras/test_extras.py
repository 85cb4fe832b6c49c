"""Extra work, noted before it is done."""

from __future__ import annotations

from decimal import Decimal
from io import BytesIO

import pytest

from jobs.domain.checks import BadValueError
from jobs.models import AuditLine, Job, JobExtra, Role, User
from jobs.services.extras.extras import drop_extra, note_extra
from jobs.services.log import Photo
from tests.builders import make_company, make_job, make_person

pytestmark = pytest.mark.django_db


@pytest.fixture
def job() -> Job:
    return make_job(make_company())


@pytest.fixture
def crew(job: Job) -> User:
    return make_person(job.company, Role.CREW)


def a_shelf(job: Job, crew: User, **changes: object) -> JobExtra:
    fields: dict[str, object] = {"key": "k", "text": " Take the shelf down "}
    return note_extra(job=job, user=crew, **fields | changes)  # type: ignore[arg-type]


def test_it_is_kept_with_who_noted_it(job: Job, crew: User) -> None:
    extra = a_shelf(job, crew, asked_by="Ines Okafor", hours=Decimal(2))
    assert (extra.text, extra.who, extra.asked_by) == ("Take the shelf down", crew, "Ines Okafor")
    assert AuditLine.objects.filter(act="Noted: Extra work: Take the shelf down").exists()


def test_sent_twice_it_is_noted_once(job: Job, crew: User) -> None:
    assert a_shelf(job, crew) == a_shelf(job, crew)
    assert job.extras.count() == 1


def test_what_is_no_picture_is_refused_and_nothing_is_noted(job: Job, crew: User) -> None:
    photo = Photo(upload=BytesIO(b"no picture"), size=10, name="shelf.jpg")
    with pytest.raises(BadValueError):
        a_shelf(job, crew, photo=photo)
    assert not job.extras.exists()


def test_nothing_is_no_extra_work(job: Job, crew: User) -> None:
    with pytest.raises(BadValueError, match="what is wanted"):
        a_shelf(job, crew, text="   ")


def test_a_closed_job_takes_none(job: Job, crew: User) -> None:
    job.closed_at = "2027-03-01T12:00:00Z"
    with pytest.raises(BadValueError, match="closed"):
        a_shelf(job, crew)


def test_dropped_it_is_off_the_list_and_stays_in_the_book(job: Job, crew: User) -> None:
    drop_extra(extra=a_shelf(job, crew), user=crew)
    assert job.extras.filter(dropped_at__isnull=True).count() == 0
    assert job.extras.count() == 1
