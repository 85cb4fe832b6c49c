"""Learned rates read laying by the day from the rows of the plan that was laid."""

from __future__ import annotations

from decimal import Decimal

import pytest

from jobs.domain.rates.work import Driver, WorkDone
from jobs.domain.scope.by_room.places import ROW_DRIVERS
from jobs.domain.scope.by_room.plan_rows import row_figures
from jobs.models import FloorPlan, Job, User
from jobs.readers.rates.work_done import closed_work
from jobs.readers.stored_plan import stored_plan
from tests.estimates.a_job import LATER, a_day, company_of, log
from tests.jobs.readers.packets.test_standing import replanned

pytestmark = pytest.mark.django_db

FIRST_DAY = 3


def figures(plan: FloorPlan) -> list[tuple[Decimal, ...]]:
    form = stored_plan(plan).plan_form
    return list(row_figures(form["pieces"], form["unit"]))


def summed(rows: list[tuple[Decimal, ...]]) -> dict[Driver, Decimal]:
    """What these rows have of each driver of laying, added up column by column."""
    columns = zip(*rows, strict=True)
    return {(name, ""): sum(column) for name, column in zip(ROW_DRIVERS, columns, strict=True)}


def laid_in_two_days(job: Job, owner: User, rows: int) -> list[WorkDone]:
    """Log the first rows on one day and the others on the next; close the job; what it says."""
    first = a_day(job)
    second = a_day(job, 2, first.crew)
    log(first, "lay", "5", zone="Den", row_from=1, row_to=FIRST_DAY)
    log(second, "lay", "6", zone="Den", row_from=FIRST_DAY + 1, row_to=rows)
    Job.objects.filter(pk=job.pk).update(closed_at=f"{LATER}T12:00:00Z")
    done = closed_work(company_of(owner)).done
    return [work for work in done if work.task_code == "lay"]


def test_days_of_a_floor_planned_again_count_by_the_rows_of_its_plan_now(
    job: Job, owner: User
) -> None:
    zone = job.zones.get()
    before = zone.plans.latest("number")
    replanned(zone, owner, rows=FIRST_DAY)
    now = figures(zone.plans.latest("number"))
    one, two = laid_in_two_days(job, owner, len(now))
    assert (one.hours, two.hours) == (Decimal(5), Decimal(6))
    assert (one.days, two.days) == (1, 1)
    assert one.amounts == summed(now[:FIRST_DAY])
    assert two.amounts == summed(now[FIRST_DAY:])
    assert summed(now[FIRST_DAY:]) != summed(figures(before)[FIRST_DAY:])


def test_days_of_a_floor_as_agreed_count_by_the_rows_of_the_agreed_plan(
    job: Job, owner: User
) -> None:
    rows = figures(job.zones.get().plans.latest("number"))
    one, two = laid_in_two_days(job, owner, len(rows))
    assert one.amounts == summed(rows[:FIRST_DAY])
    assert two.amounts == summed(rows[FIRST_DAY:])


def test_rows_that_are_not_all_logged_count_by_the_floor(job: Job, owner: User) -> None:
    rows = figures(job.zones.get().plans.latest("number"))
    (whole,) = laid_in_two_days(job, owner, len(rows) - 1)
    assert (whole.hours, whole.days) == (Decimal(11), 2)
