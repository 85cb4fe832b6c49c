"""The path of a job: where it stands, looked at alone or with all the jobs of a page."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import Company, Job
from jobs.readers.path import findings, standings
from tests.builders import make_company, make_person
from tests.stages import STAGES, job_at

pytestmark = pytest.mark.django_db

Make = Callable[[Company], Job]


@pytest.fixture
def jobs() -> list[Job]:
    """A job of one company at every stage."""
    company = make_company()
    return [make(company) for _, make in STAGES]


@pytest.mark.parametrize(("stage", "make"), STAGES)
def test_a_job_stands_at_the_first_step_that_is_not_done(stage: str, make: Make) -> None:
    job = make(make_company())
    assert standings([job]) == {job.pk: stage}


def test_jobs_stand_on_a_page_where_each_stands_alone(jobs: list[Job]) -> None:
    assert standings(jobs) == {job.pk: standings([job])[job.pk] for job in jobs}


def test_every_step_says_the_same_on_a_page_and_alone(jobs: list[Job]) -> None:
    together = findings(jobs)
    assert together == {job.pk: findings([job])[job.pk] for job in jobs}


def test_next_leads_to_the_step_where_it_is_done_and_not_from_that_step_itself() -> None:
    company = make_company()
    job, visitor = job_at("Floor", company), Visitor()
    visitor.force_login(make_person(company))
    link = f'<a class="button" href="{reverse("zone-list", args=[job.pk])}">Open the floor</a>'
    for page in ("job", "room-list", "job-price", "job-days", "packet-list", "job-log"):
        assert link in visitor.get(reverse(page, args=[job.pk])).content.decode(), page
    assert link not in visitor.get(reverse("zone-list", args=[job.pk])).content.decode()


def test_the_path_says_in_a_line_where_a_page_stands() -> None:
    company = make_company()
    job, visitor = job_at("Floor", company), Visitor()
    visitor.force_login(make_person(company))
    page = visitor.get(reverse("zone-list", args=[job.pk])).content.decode()
    assert "<summary>Path: 3 of 9, Floor</summary>" in page
