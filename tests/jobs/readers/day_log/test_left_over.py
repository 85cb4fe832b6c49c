"""A day that falls short, and a floor that came out unlike its plan, wait on the office."""

from __future__ import annotations

from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import DayLog, FloorPlan, Job, LogEntry, User, WorkDay
from jobs.readers.today import waiting_for
from tests.builders import make_company, make_job, make_person, make_plan, make_room, make_zone
from tests.jobs.agreed import MONDAY, a_crew, agree, laid_out, make_scope
from tests.jobs.services.day_log.a_phone import sent

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner(job: Job) -> User:
    return make_person(job.company)


@pytest.fixture
def job() -> Job:
    """An agreed job with a den of eight rows and its plan."""
    job = make_job(make_company())
    plan = make_plan(make_zone(make_room(job, size=(150, 55.4))))
    return agree(job, make_scope(job, plan_sha256=plan.document.sha256))


@pytest.fixture
def days(job: Job) -> list[WorkDay]:
    return laid_out(job, a_crew(job.company))


def laying(days: list[WorkDay]) -> WorkDay:
    """The second day with rows on it; the first has the first row alone."""
    return [day for day in days if any(entry["rows"] for entry in day.entries)][1]


def lead_of(days: list[WorkDay]) -> User:
    lead = days[0].crew.members.first()
    assert lead is not None
    return lead


def logged(days: list[WorkDay], through: int, **more: Any) -> None:
    lead = lead_of(days)
    values: dict[str, Any] = {f"hours__lay__1__{lead.pk}": "4", "through__lay__1": through}
    sent(lead, laying(days), **values, **more)


def waits(job: Job, kind: str) -> list[tuple[str, str]]:
    lines = waiting_for(job.company)
    return [(line.text, line.url) for line in lines if line.kind == kind]


def page_of(person: User, address: str) -> str:
    visitor = Visitor()
    visitor.force_login(person)
    return visitor.get(address).content.decode()


def rows_of(day: WorkDay) -> list[int]:
    return next(entry["rows"] for entry in day.entries if entry["rows"])


def test_rows_of_a_short_day_are_said_at_home_and_lead_to_planning_the_days_again(
    job: Job, days: list[WorkDay], owner: User
) -> None:
    assert rows_of(laying(days)) == [2, 5]
    logged(days, 2)
    words = f"rows 3 to {rows_of(laying(days))[1]} of Den are on no day"
    address = reverse("job-days", args=[job.pk])
    said = f"Job {job.number}, {job.title}: {words}; plan the days again"
    assert waits(job, "rows") == [(said, f"{address}#lay-out")]
    assert said in page_of(owner, reverse("job-list"))
    page = page_of(owner, address)
    assert f"By the log {words}." in page
    assert '<a class="button" href="#lay-out">Go to the form that plans them again</a>' in page


def test_days_planned_again_have_the_rows_and_nothing_is_said(
    job: Job, days: list[WorkDay], owner: User
) -> None:
    logged(days, 2)
    again = laid_out(job, days[0].crew, MONDAY.replace(day=15))
    assert next(rows_of(day)[0] for day in again if day.date.day >= 15) == 3
    assert waits(job, "rows") == []
    assert "on no day" not in page_of(owner, reverse("job-days", args=[job.pk]))


def test_nothing_is_said_before_a_log_or_of_a_day_laid_whole(job: Job, days: list[WorkDay]) -> None:
    assert waits(job, "rows") == []
    logged(days, rows_of(laying(days))[1])
    assert waits(job, "rows") == []


def test_the_crew_reads_it_and_has_no_button(job: Job, days: list[WorkDay]) -> None:
    logged(days, 2)
    page = page_of(lead_of(days), reverse("job-days", args=[job.pk]))
    assert "of Den are on no day" in page
    assert 'href="#lay-out"' not in page


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ({"spoiled__lay__1__wrong__side": 1}, "1 plank spoiled"),
        ({"spoiled__lay__1__wrong__side": 4}, "4 planks spoiled"),
        ({"last_width": "4 1/4"}, "the last row comes out at 4 1/4"),
        ({"broken": 1}, "1 offcut broken"),
        (
            {"spoiled__lay__1__defect": 2, "broken": 2, "last_width": "4 1/4"},
            "2 planks spoiled, 2 offcuts broken, the last row comes out at 4 1/4",
        ),
    ],
)
def test_what_the_plan_could_not_know_leads_to_planning_what_is_left(
    job: Job, days: list[WorkDay], owner: User, said: dict[str, Any], why: str
) -> None:
    logged(days, 2, **said)
    address = reverse("zone-going-on", args=[job.zones.get().pk])
    text = f"Job {job.number}, {job.title}: Den by the log: {why}; plan what is left"
    assert waits(job, "rest") == [(text, address)]
    assert text in page_of(owner, reverse("job-list"))


def test_a_plan_made_since_answers_it(job: Job, days: list[WorkDay]) -> None:
    logged(days, 2, broken=1)
    FloorPlan.objects.update(made_at=DayLog.objects.get().at)
    LogEntry.objects.update(at=DayLog.objects.get().at)
    assert waits(job, "rest") == []


def test_a_log_by_the_plan_and_a_floor_that_is_down_need_no_new_plan(
    job: Job, days: list[WorkDay]
) -> None:
    logged(days, 2)
    assert waits(job, "rest") == []
    logged(days, 8, key="k2", spoiled__lay__1__defect=2)
    assert waits(job, "rest") == []
