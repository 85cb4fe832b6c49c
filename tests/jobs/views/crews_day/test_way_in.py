"""The way in: to the office always, to a crew on the very day that it is there, on every page."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.clock import today_of
from jobs.models import Job, Role, SiteFacts, User
from tests.builders import make_company, make_crew, make_person
from tests.jobs.agreed import agreed_job
from tests.jobs.moved import on_days

pytestmark = pytest.mark.django_db
KEY = "Key under the third pot"


@pytest.fixture
def lead() -> User:
    """The lead of a crew of one."""
    return make_person(make_company(), Role.CREW, name="Lio Hart")


@pytest.fixture
def job(lead: User) -> Job:
    """A job with a key under a pot and two cats, its first day tomorrow or today by the test."""
    job = agreed_job(lead.company)
    SiteFacts.objects.filter(job=job).update(access=KEY, pets="Two cats")
    today = today_of(job.company)
    on_days(job, make_crew(job.company, lead), make_person(job.company), today, today)
    return job


def put_first_day(job: Job, on: date) -> None:
    for place, day in enumerate(job.days.order_by("-date")):
        job.days.filter(pk=day.pk).update(date=date(2090, 1, 1) + timedelta(days=place))
    job.days.filter(number=1).update(date=on)


def page(person: User, name: str, pk: int | None = None) -> str:
    visitor = Visitor()
    visitor.force_login(person)
    answer = visitor.get(reverse(name, args=[] if pk is None else [pk]))
    assert answer.status_code == 200
    return answer.content.decode()


def pages(person: User, job: Job) -> list[str]:
    """Every page with the site on it that a crew member opens."""
    day = job.days.get(number=1)
    return [page(person, "today"), page(person, "day", day.pk), page(person, "job", job.pk)]


def test_on_the_day_a_crew_reads_the_way_in_and_pets(job: Job, lead: User) -> None:
    put_first_day(job, today_of(job.company))
    for text in pages(lead, job):
        assert KEY in text
        assert "Two cats" in text


@pytest.mark.parametrize("days", [-1, 1])
def test_on_any_other_day_no_page_of_a_crew_says_it(job: Job, lead: User, days: int) -> None:
    put_first_day(job, today_of(job.company) + timedelta(days=days))
    for text in pages(lead, job):
        assert KEY not in text
        assert "Two cats" not in text
    for name in ("day-list", "job-list"):
        assert KEY not in page(lead, name)


def test_the_office_reads_it_on_any_day(job: Job) -> None:
    put_first_day(job, today_of(job.company) + timedelta(days=9))
    owner = User.objects.filter(company=job.company, role=Role.OWNER).first()
    assert owner is not None
    assert KEY in page(owner, "day", job.days.get(number=1).pk)
    assert KEY in page(owner, "job", job.pk)


def test_a_page_that_a_phone_kept_knows_until_when_it_shows_it(job: Job, lead: User) -> None:
    job.company.time_zone = "America/New_York"
    job.company.save()
    today = today_of(job.company)
    put_first_day(job, today)
    midnight = f'data-until="{today + timedelta(days=1)}T00:00:00-0'
    assert midnight in page(lead, "today")
    assert midnight in page(lead, "day", job.days.get(number=1).pk)
