"""Days laid out again: what was lost, moved or held stands, people who left are gone."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.domain.checks import BadValueError
from jobs.models import Crew, DaysChange, Job, User, WorkDay
from jobs.services.crews.leaving import leave_crew
from jobs.services.moved_days.replan import DayMove, seen_as
from jobs.services.moved_days.saving import save_change
from tests.builders import make_company, make_person
from tests.jobs.agreed import MONDAY, a_crew, agreed_job, laid_out

pytestmark = pytest.mark.django_db
TUESDAY, WEDNESDAY, THURSDAY, FRIDAY = (MONDAY + timedelta(days=n) for n in (1, 2, 3, 4))
SATURDAY = MONDAY + timedelta(days=5)


@pytest.fixture
def owner() -> User:
    """An owner."""
    return make_person(make_company(), name="Mara Quill")


@pytest.fixture
def crew(owner: User) -> Crew:
    """A crew of one."""
    assert owner.company is not None
    return a_crew(owner.company)


@pytest.fixture
def job(owner: User, crew: Crew) -> Job:
    """A job of one person from Monday to Thursday."""
    job = agreed_job(owner.company)
    laid_out(job, crew)
    return job


def dates(job: Job) -> list[date]:
    return list(job.days.order_by("number").values_list("date", flat=True))


def saved(job: Job, user: User, number: int, kind: str, **move: Any) -> DaysChange:
    day = job.days.select_related("job__company", "crew", "scope__document").get(number=number)
    seen = seen_as(job.days.order_by("date"))
    wanted = DayMove(kind=kind, day=day, **move)
    return save_change(
        move=wanted, user=user, key=f"{kind}{number}", reason="Rain", seen=seen, today=MONDAY
    )


def laying(job: Job) -> list[date]:
    days = job.days.order_by("date")
    return [day.date for day in days if any(e["task"] == "lay" for e in day.entries)]


def test_a_lost_day_stays_lost(job: Job, owner: User, crew: Crew) -> None:
    saved(job, owner, 2, "lost")
    laid_out(job, crew)
    assert dates(job) == [MONDAY, WEDNESDAY, THURSDAY, FRIDAY]


def test_a_move_to_a_saturday_stands(job: Job, owner: User, crew: Crew) -> None:
    saved(job, owner, 4, "moved", to=SATURDAY)
    laid_out(job, crew)
    assert dates(job) == [MONDAY, TUESDAY, WEDNESDAY, SATURDAY]


def test_a_hold_to_a_date_stands(job: Job, owner: User, crew: Crew) -> None:
    saved(job, owner, 1, "held", task="lay:Den", to=THURSDAY)
    laid_out(job, crew)
    assert min(laying(job)) == THURSDAY


def test_laid_out_afresh_none_of_it_stands(job: Job, owner: User, crew: Crew) -> None:
    saved(job, owner, 2, "lost")
    laid_out(job, crew, afresh=True)
    assert dates(job) == [MONDAY, TUESDAY, WEDNESDAY, THURSDAY]
    assert not job.days_changes.filter(undone_at=None).exists()


def left(crew: Crew, owner: User, last_day: date | None, key: str = "leave") -> Crew:
    person = crew.members.order_by("pk").last()
    assert person is not None
    return leave_crew(
        crew=crew, user=owner, key=key, person=person.pk, last_day=last_day, today=MONDAY
    )


def people_on(day: WorkDay) -> int:
    return len({lane["person"] for lane in day.lanes})


@pytest.fixture
def two(owner: User) -> Crew:
    """A crew of two."""
    assert owner.company is not None
    return a_crew(owner.company, people=2)


def test_who_leaves_counts_no_more_from_the_next_day_on(job: Job, owner: User, two: Crew) -> None:
    """By hand: two people are done with 25 h on Tuesday; one alone goes on from Tuesday to
    Thursday: 16 h on Monday, 8 h, then 1 h.
    """
    laid_out(job, two)
    together = dates(job)
    left(two, owner, MONDAY)
    laid_out(job, two)
    days = list(job.days.order_by("date"))
    assert together == [MONDAY, TUESDAY]
    assert people_on(days[0]) == 2
    assert {people_on(day) for day in days[1:]} == {1}
    assert len(days) > len(together)
    rows = [entry["rows"] for day in days for entry in day.entries if entry["rows"]]
    assert [row for a, b in rows for row in range(a, b + 1)] == list(range(1, 9))


def page(job: Job, owner: User) -> str:
    visitor = Visitor()
    visitor.force_login(owner)
    return " ".join(visitor.get(reverse("job-days", args=[job.pk])).content.decode().split())


def test_days_that_count_on_somebody_who_leaves_say_so(job: Job, owner: User, two: Crew) -> None:
    laid_out(job, two)
    assert "Somebody leaves the crew" not in page(job, owner)
    left(two, owner, MONDAY)
    assert "after Mon, Mar 1. Laid out with more people than are left: day 2." in page(job, owner)
    laid_out(job, two)
    assert "Somebody leaves the crew" not in page(job, owner)


def test_who_stays_after_all_is_counted_again(job: Job, owner: User, two: Crew) -> None:
    left(two, owner, MONDAY)
    left(two, owner, None, key="stay")
    laid_out(job, two)
    assert dates(job) == [MONDAY, TUESDAY]


def test_a_last_day_in_the_past_and_a_stranger_are_refused(owner: User, two: Crew) -> None:
    with pytest.raises(BadValueError, match=f"accepted: {MONDAY} or later"):
        left(two, owner, MONDAY - timedelta(days=1))
    with pytest.raises(BadValueError, match="accepted: somebody of this crew"):
        leave_crew(crew=two, user=owner, key="x", person=owner.pk, last_day=MONDAY, today=MONDAY)


def test_when_everybody_left_nobody_can_work(job: Job, owner: User, crew: Crew) -> None:
    left(crew, owner, MONDAY)
    with pytest.raises(BadValueError, match="at least one person who is still there"):
        laid_out(job, crew, start=TUESDAY)


def test_what_stands_is_said_before_the_days_are_planned_again(job: Job, owner: User) -> None:
    saved(job, owner, 2, "lost")
    said = page(job, owner)
    assert "These stand and are kept" in said
    assert "Lost, Tue, Mar 2: Rain" in said
