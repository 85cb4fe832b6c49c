"""A change of days is seen on the board before it is saved; what was seen is what is saved."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from time_machine import travel

from jobs.models import Crew, DaysChange, Job
from tests.builders import make_company, make_day, make_person
from tests.jobs.agreed import MONDAY, a_crew, agreed_job, laid_out
from tests.reading import words

pytestmark = pytest.mark.django_db
TUESDAY, NEXT_MONDAY = MONDAY + timedelta(days=1), MONDAY + timedelta(days=7)
STALE = "an effect that is out of date"


@pytest.fixture(autouse=True)
def _on_a_monday() -> Iterator[None]:
    with travel("2027-03-01 15:00Z", tick=False):
        yield


@pytest.fixture
def job() -> Job:
    return agreed_job(make_company(time_zone="UTC"))


@pytest.fixture
def crew(job: Job) -> Crew:
    crew = a_crew(job.company)
    laid_out(job, crew)
    return crew


@pytest.fixture
def visitor(job: Job) -> Visitor:
    visitor = Visitor()
    visitor.force_login(make_person(job.company, name="Mara Quill"))
    return visitor


def look(visitor: Visitor, job: Job, to: str) -> Any:
    """Look at what would follow if Tuesday's day were moved."""
    day = job.days.get(date=TUESDAY)
    return visitor.get(reverse("day-move", args=[day.pk]), {"to": to})


def save(visitor: Visitor, job: Job, to: str, looked: Any) -> Any:
    """Save the move with the marks of the effect that was looked at."""
    marks = {"seen": looked.context["seen"], "shown": looked.context["shown"].mark}
    day = job.days.get(date=TUESDAY)
    sent = {"key": "k", "reason": "No key", "to": to} | marks
    return visitor.post(reverse("day-move", args=[day.pk]), sent)


def penciled(answer: Any) -> list[tuple[str, int]]:
    """Return date and number of every visit that is drawn as penciled."""
    board = answer.context["board"]
    return [
        (square.date.isoformat(), visit.day.number)
        for lane in board.crews
        for square in lane.squares
        for visit in square.visits
        if visit.day.penciled
    ]


def test_days_as_they_would_lie_stand_on_the_board_before_they_are_saved(
    visitor: Visitor, job: Job, crew: Crew
) -> None:
    """Day 2 goes to the next Monday and takes days 3 and 4 along; day 1 stays as it is."""
    answer = look(visitor, job, NEXT_MONDAY.isoformat())
    assert penciled(answer) == [("2027-03-08", 2), ("2027-03-09", 3), ("2027-03-10", 4)]
    said = words(answer)
    assert "Crews, as they would be" in said
    assert "penciled" in said
    board = visitor.get(reverse("board"))
    assert penciled(board) == []
    assert "penciled" not in words(board)


def test_a_conflict_that_a_move_makes_is_said_before_it_is_saved(
    visitor: Visitor, job: Job, crew: Crew
) -> None:
    other = agreed_job(job.company)
    make_day(other, crew, scope=other.agreed_scope, date=NEXT_MONDAY, hours=4)
    lines = look(visitor, job, NEXT_MONDAY.isoformat()).context["shown"].lines
    [line] = [one for one in lines if one.name == "Conflict: one crew, two jobs"]
    assert line.now == "none"
    both = f"is on job {job.number} (8 h) and job {other.number} (4 h) on Mon, Mar 8"
    assert both in line.then
    wednesday = (MONDAY + timedelta(days=9)).isoformat()
    lines = look(visitor, job, wednesday).context["shown"].lines
    assert not [one for one in lines if one.name.startswith("Conflict")]


def test_a_conflict_that_a_move_mends_is_said_too(visitor: Visitor, job: Job, crew: Crew) -> None:
    other = agreed_job(job.company)
    make_day(other, crew, scope=other.agreed_scope, date=TUESDAY, hours=4)
    lines = look(visitor, job, NEXT_MONDAY.isoformat()).context["shown"].lines
    [line] = [one for one in lines if one.name == "Conflict: one crew, two jobs"]
    assert f"and job {other.number} (4 h) on Tue, Mar 2" in line.now
    assert line.then == "none"


def test_another_date_than_the_one_that_was_looked_at_is_not_saved(
    visitor: Visitor, job: Job, crew: Crew
) -> None:
    looked = look(visitor, job, NEXT_MONDAY.isoformat())
    wednesday = (MONDAY + timedelta(days=9)).isoformat()
    answer = save(visitor, job, wednesday, looked)
    assert answer.status_code == 422
    said = words(answer)
    assert STALE in said
    assert 'value="No key"' in said
    assert not DaysChange.objects.exists()
    assert save(visitor, job, wednesday, answer).status_code == 303


def test_an_effect_of_a_crew_that_has_changed_since_is_not_saved(
    visitor: Visitor, job: Job, crew: Crew
) -> None:
    """The crew works six hours a day now: what was shown for eight holds no more."""
    to = NEXT_MONDAY.isoformat()
    looked = look(visitor, job, to)
    Crew.objects.filter(pk=crew.pk).update(hours_per_day=Decimal(6))
    answer = save(visitor, job, to, looked)
    assert answer.status_code == 422
    assert STALE in words(answer)
    assert not DaysChange.objects.exists()
    assert save(visitor, job, to, answer).status_code == 303


def test_a_change_that_nobody_looked_at_is_not_saved(
    visitor: Visitor, job: Job, crew: Crew
) -> None:
    looked = look(visitor, job, NEXT_MONDAY.isoformat())
    day = job.days.get(date=TUESDAY)
    sent = {"key": "k", "reason": "No key", "to": NEXT_MONDAY.isoformat()}
    sent["seen"] = looked.context["seen"]
    answer = visitor.post(reverse("day-move", args=[day.pk]), sent)
    assert answer.status_code == 422
    assert STALE in words(answer)
