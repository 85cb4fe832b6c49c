"""Days of a job at a browser: the chart, a lost day with its effect first, saved, undone."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from jobs.clock import today_of
from jobs.models import Job, Role, User
from tests.browser.hands import Hands, look_at
from tests.builders import make_crew, make_person
from tests.jobs.agreed import hold_asbestos
from tests.jobs.moved import on_days, worked_job

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


def some_monday(owner: User) -> date:
    """A Monday well ahead, in a week without a federal holiday next to it."""
    assert owner.company is not None
    monday = today_of(owner.company) + timedelta(days=7)
    while monday.weekday() or monday.month in (1, 2, 5, 6, 7, 9, 10, 11, 12):
        monday += timedelta(days=1)
    return monday


@pytest.fixture
def job(owner: User) -> Job:
    """A job of two people on four days or five."""
    assert owner.company is not None
    job = worked_job(owner.company)
    people = [make_person(owner.company, Role.CREW) for _ in range(2)]
    monday = some_monday(owner)
    crew = make_crew(owner.company, *people)
    on_days(job, crew, owner, monday, today_of(owner.company))
    return job


def test_the_chart_fits_both_sizes_and_says_why(hands: Hands, job: Job) -> None:
    hold_asbestos(job)
    hands.open(f"/jobs/{job.pk}/days")
    hands.expect("Why each task stands where it stands")
    hands.page.locator(".days-why summary").click()
    look_at(hands, "days-chart")
