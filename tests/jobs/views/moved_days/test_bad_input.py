"""What can't be, typed where it is typed: each is refused by name, and nothing typed is lost."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from time_machine import travel

from jobs.models import Crew, DaysChange, Job, User
from jobs.readers.chart.sheets import MOST_WIDE
from tests.builders import make_company, make_crew, make_person
from tests.jobs.agreed import MONDAY, a_crew, a_task, agree, agreed_job, laid_out, make_scope
from tests.reading import words

pytestmark = pytest.mark.django_db
TUESDAY = MONDAY + timedelta(days=1)


@pytest.fixture(autouse=True)
def _on_a_monday() -> Iterator[None]:
    with travel("2027-03-01 15:00Z", tick=False):
        yield


@pytest.fixture
def job() -> Job:
    return agreed_job(make_company(time_zone="UTC"))


@pytest.fixture
def crew(job: Job) -> Crew:
    return a_crew(job.company)


def of(person: User) -> Visitor:
    visitor = Visitor()
    visitor.force_login(person)
    return visitor


@pytest.fixture
def visitor(job: Job) -> Visitor:
    return of(make_person(job.company, name="Mara Quill"))


def plan(visitor: Visitor, job: Job, crew: Crew, start: date = MONDAY) -> Any:
    sent = {"key": "k", "crew": crew.pk, "start": start.isoformat()}
    return visitor.post(reverse("job-days", args=[job.pk]), sent)


def page(visitor: Visitor, name: str, pk: int, query: str = "") -> str:
    return words(visitor.get(reverse(name, args=[pk]) + query))


def test_nobody_in_the_crew_is_said_where_days_are_planned(visitor: Visitor, job: Job) -> None:
    answer = plan(visitor, job, make_crew(job.company, name="Empty"))
    assert answer.status_code == 422
    assert "a crew with at least one person; put somebody into it first" in words(answer)


@pytest.mark.parametrize("hours", ["0", "24", "16", "-8", "eight"])
def test_a_person_works_neither_no_hours_nor_all_of_them(
    visitor: Visitor, job: Job, hours: str
) -> None:
    sent = {"name": "North", "hours_per_day": hours, "key": "k", "version": 1}
    answer = visitor.post(reverse("crew-add"), sent)
    assert answer.status_code == 422
    said = words(answer)
    assert f'value="{hours}"' in said
    if hours != "eight":
        assert "accepted: 1 to 12 hours of one person, not of all together" in said
    assert not job.company.crews.exists()


def test_a_start_in_the_past_names_today(visitor: Visitor, job: Job, crew: Crew) -> None:
    answer = plan(visitor, job, crew, MONDAY - timedelta(days=3))
    assert answer.status_code == 422
    assert "2027-02-26 is past; accepted: 2027-03-01 or later" in words(answer)


def test_holidays_of_nowhere_are_refused_where_the_company_is_set_up(
    visitor: Visitor, job: Job
) -> None:
    form = visitor.get(reverse("company")).context["form"]
    shown = {field.html_name: field.value() or "" for field in form}
    answer = visitor.post(reverse("company"), shown | {"country": "QQ"})
    assert answer.status_code == 422
    assert "QQ" in words(answer)


def test_a_ring_of_waiting_is_named_task_by_task(visitor: Visitor, job: Job, crew: Crew) -> None:
    tasks = (
        a_task("setup", "1.50", zone=""),
        a_task("tear_out", "4.00", after=("base:Den",)),
        a_task("base", "4.00", after=("tear_out:Den",)),
        a_task("lay", "4.00", after=("setup",), rows=(1, 8)),
    )
    agree(job, make_scope(job, tasks))
    answer = plan(visitor, job, crew)
    assert answer.status_code == 422
    ring = "'Tear out (Den), Base (Den), Tear out (Den)'"
    said = words(answer)
    assert f"what waits for what is {ring}; accepted: work that does not wait for itself" in said
    assert not job.days.exists()


def test_a_job_longer_than_a_quarter_lies_on_days_with_a_chart(
    visitor: Visitor, job: Job, crew: Crew
) -> None:
    """576 h of one person, eight a day: 72 working days from March 1.

    A day falls out for Memorial Day, May 31 (5 U.S.C. 6103): the last is June 9, 2027.
    """
    tasks = (a_task("lay", "576.00", rows=(1, 144)),)
    agree(job, make_scope(job, tasks, rows=144))
    assert plan(visitor, job, crew).status_code == 303
    assert job.days.count() == 72
    assert job.days.latest("date").date == date(2027, 6, 9)
    answer = visitor.get(reverse("job-days", args=[job.pk]))
    assert answer.status_code == 200
    sheets = answer.context["chart_sheets"]
    assert all(sheet.chart.wide <= MOST_WIDE for sheet in sheets)
    assert sum(len([c for c in sheet.chart.columns if c.trip]) for sheet in sheets) == 72


def test_a_weekend_on_which_clocks_change_moves_no_hour(
    visitor: Visitor, job: Job, crew: Crew
) -> None:
    """Clocks go forward on March 14, 2027 (15 U.S.C. 260a): Monday begins at the same hour."""
    job.company.time_zone = "America/New_York"
    job.company.save()
    assert plan(visitor, job, crew, date(2027, 3, 12)).status_code == 303
    days = list(job.days.order_by("date"))
    assert [day.date for day in days[:2]] == [date(2027, 3, 12), date(2027, 3, 15)]
    first, second = (day.lanes[0]["begins"] for day in days[:2])
    assert first == second


def test_somebody_leaves_in_the_midst_of_a_job_and_its_days_say_so(
    visitor: Visitor, job: Job
) -> None:
    crew = a_crew(job.company, people=2)
    laid_out(job, crew)
    who = crew.members.order_by("pk").first()
    assert who is not None
    sent = {"key": "k", "person": who.pk, "last_day": MONDAY.isoformat()}
    visitor.post(reverse("crew-leaving", args=[crew.pk]), sent)
    said = page(visitor, "job-days", job.pk)
    assert f"{who.name} leaves {crew} after Mon, Mar 1." in said
    assert "Plan the days again" in said
    assert plan(visitor, job, crew).status_code == 303
    later = job.days.filter(date__gt=MONDAY)
    assert all(len({lane["person"] for lane in day.lanes}) == 1 for day in later)
    assert "Laid out with more people" not in page(visitor, "job-days", job.pk)


def lose(visitor: Visitor, day: int, marks: dict[str, str], key: str, reason: str) -> Any:
    sent = {"key": key, "reason": reason} | marks
    return visitor.post(reverse("day-lost", args=[day]), sent)


def test_of_two_owners_who_move_one_day_the_second_reads_who_was_first(
    visitor: Visitor, job: Job, crew: Crew
) -> None:
    laid_out(job, crew)
    second = of(make_person(job.company, name="Ole Rand"))
    day = job.days.get(date=TUESDAY)
    looked = visitor.get(reverse("day-lost", args=[day.pk])).context
    marks = {"seen": looked["seen"], "shown": looked["shown"].mark}
    assert lose(visitor, day.pk, marks, "a", "Rain").status_code == 303
    answer = lose(second, day.pk, marks, "b", "No key")
    assert answer.status_code in (409, 422)
    said = words(answer)
    assert "changed (lost day) by Mara Quill" in said
    assert 'value="No key"' in said
    assert DaysChange.objects.count() == 1


def test_two_crews_at_once_on_one_job_are_refused_with_the_way_out(
    visitor: Visitor, job: Job, crew: Crew
) -> None:
    laid_out(job, crew)
    other = a_crew(job.company)
    day = job.days.get(date=TUESDAY)
    rows = next(entry["rows"] for entry in day.entries if entry["rows"])
    lay = f"task=lay:Den&stays={rows[0]}"
    query = f"?{lay}&to={TUESDAY.isoformat()}&crew={other.pk}"
    said = page(visitor, "day-split", day.pk, query)
    assert "one crew works a job on a date" in said
    assert f"put its people into {crew}" in said
    half = f"?task=day&stays=4&to={TUESDAY.isoformat()}&crew={other.pk}"
    assert "one crew works a job on a date" in page(visitor, "day-split", day.pk, half)


def test_hours_of_a_person_of_before_that_are_too_many_are_refused_at_planning(
    visitor: Visitor, job: Job, crew: Crew
) -> None:
    Crew.objects.filter(pk=crew.pk).update(hours_per_day=Decimal(24))
    answer = plan(visitor, job, crew)
    assert answer.status_code == 422
    said = words(answer)
    assert f"'{crew}, 24 h a day each'; accepted: up to 16 h a day of one person" in said
