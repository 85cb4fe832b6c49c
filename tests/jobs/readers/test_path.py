"""The path of a job: where it stands, looked at alone or with all the jobs of a page."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from jobs.models import Company, Job
from jobs.readers.path import findings, standings
from tests.builders import make_company
from tests.stages import STAGES

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
