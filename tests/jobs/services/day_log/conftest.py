"""A job, its first day and the two who work it."""

from __future__ import annotations

import pytest

from jobs.models import (
    Job,
    User,
    WorkDay,
)
from tests.jobs.agreed import a_crew, agreed_job, laid_out


@pytest.fixture
def job() -> Job:
    """A job with an agreed scope of 25 hours and 8 rows."""
    return agreed_job()


@pytest.fixture
def day(job: Job) -> WorkDay:
    """Its first day, of a crew of two."""
    return laid_out(job, a_crew(job.company, people=2))[0]


@pytest.fixture
def lead(day: WorkDay) -> User:
    """Who stands first in the crew."""
    return day.crew.members.order_by("pk")[0]


@pytest.fixture
def helper(day: WorkDay) -> User:
    """The other of the crew."""
    return day.crew.members.order_by("pk")[1]
