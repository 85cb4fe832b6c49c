"""What is earned by rows goes by the plan that the floor is laid by, replanned or not."""

from __future__ import annotations

import pytest

from estimates.readers.review.reviewed import reviewed
from jobs.domain.tasks import Task
from jobs.models import Job, User
from jobs.readers.current_plan.tasks import tasks_as_laid
from jobs.readers.scope import agreed_scope_of
from tests.estimates.a_job import a_day, log
from tests.jobs.readers.packets.test_standing import replanned

pytestmark = pytest.mark.django_db


def laying(tasks: tuple[Task, ...]) -> Task:
    (lay,) = (task for task in tasks if task.code == "lay")
    return lay


def test_the_last_row_is_worth_what_it_takes_in_the_plan_that_is_laid(
    job: Job, owner: User
) -> None:
    replanned(job.zones.get(), owner, rows=3)
    fresh = Job.objects.get(pk=job.pk)
    scope = agreed_scope_of(fresh)
    assert scope is not None
    then, now = laying(scope.tasks), laying(tasks_as_laid(fresh, scope))
    assert now.rows is not None
    last = now.rows[1]
    log(a_day(job), "lay", "1", zone="Den", row_from=last, row_to=last)
    made = reviewed(fresh)
    assert made is not None
    (day,) = made.review.reached
    assert day.earned == now.hours_by_row[-1] != then.hours_by_row[-1]
