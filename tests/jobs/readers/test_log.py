"""The log in words: people who did the same task stand beneath each other."""

from __future__ import annotations

import pytest

from jobs.models import Job, LogEntry
from jobs.readers.log import entry_lines
from tests.builders import make_person
from tests.estimates.a_job import a_day, an_agreed_job, an_owner

pytestmark = pytest.mark.django_db


@pytest.fixture
def job() -> Job:
    return an_agreed_job(an_owner())


def test_two_who_did_the_same_task_stand_beneath_each_other(job: Job) -> None:
    day = a_day(job)
    others = [make_person(job.company, "crew"), make_person(job.company, "crew")]
    for who in others:
        for task in ("drive", "lay", "base"):
            LogEntry.objects.create(
                day=day, who=who, key=f"{who.pk}-{task}", task=task, zone="Den", hours=1
            )
    lines = entry_lines(day.log.order_by("pk"), others[0])
    paired = [(line.entry.task, line.entry.who_id) for line in lines]
    first, second = (who.pk for who in others)
    assert paired == [
        *[("drive", first), ("drive", second)],
        *[("lay", first), ("lay", second)],
        *[("base", first), ("base", second)],
    ]
    assert [line.removable for line in lines] == [True, False] * 3
