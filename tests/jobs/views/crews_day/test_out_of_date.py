"""Other work is agreed on after the days were planned: every page says so until they are again."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from time_machine import travel

from jobs.models import Job, User
from jobs.services.feeds.links import open_feed
from tests.builders import make_company, make_crew, make_person
from tests.jobs.agreed import TASKS, a_task, agree, agreed_job, laid_out, make_scope
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _on_a_monday() -> Iterator[None]:
    with travel("2027-03-01 15:00Z", tick=False):
        yield


@pytest.fixture
def owner() -> User:
    """The owner, who lays floors too."""
    return make_person(make_company(time_zone="UTC"))


@pytest.fixture
def job(owner: User) -> Job:
    job = agreed_job(owner.company)
    laid_out(job, make_crew(job.company, owner))
    return job


def pages(owner: User, job: Job) -> dict[str, str]:
    """What each page says where it may be out of date."""
    visitor = Visitor()
    visitor.force_login(owner)
    feed = open_feed(company=job.company, user=owner, version=0)
    day = job.days.earliest("date")
    addresses = {
        "days": reverse("job-days", args=[job.pk]),
        "day": reverse("day", args=[day.pk]),
        "today": reverse("today"),
        "board": reverse("board"),
        "calendar": reverse("feed", args=[feed.token]),
    }
    return {name: words(visitor.get(address)) for name, address in addresses.items()}


SAID = {
    "days": "Days of an earlier scope",
    "day": "This day is out of date",
    "today": "This day is out of date",
    "board": "out of date",
    "calendar": "Out of date: other work is agreed on since",
}


def test_days_of_an_earlier_scope_are_out_of_date_everywhere_until_planned_again(
    owner: User, job: Job
) -> None:
    assert all(SAID[name] not in page for name, page in pages(owner, job).items())
    more = (*TASKS[:-1], a_task("clean", "1.50", zone="", after=("base:Den",)))
    agree(job, make_scope(job, more))
    for name, page in pages(owner, job).items():
        assert SAID[name] in page, name
    laid_out(job, job.days.earliest("date").crew)
    assert all(SAID[name] not in page for name, page in pages(owner, job).items())
