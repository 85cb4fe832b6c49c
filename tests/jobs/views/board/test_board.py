"""The page of the crew board: conflicts kept only with a reason, free days, jobs not on days."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from time_machine import travel

from jobs.models import AuditLine, Crew, Job, KeptConflict, Role, User
from jobs.readers.board.board import board_of, conflicts_of
from tests.builders import make_crew, make_day, make_person
from tests.jobs.agreed import MONDAY, agreed_job, hold_asbestos

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _on_a_monday() -> object:
    with travel("2027-03-01 15:00Z", tick=False):
        yield


@pytest.fixture
def job() -> Job:
    return agreed_job()


@pytest.fixture
def owner(job: Job) -> User:
    return make_person(job.company)


@pytest.fixture
def crew(job: Job) -> Crew:
    return make_crew(job.company, make_person(job.company, Role.CREW, name="Bo Reed"))


@pytest.fixture
def visitor(owner: User) -> Visitor:
    visitor = Visitor()
    visitor.force_login(owner)
    return visitor


def on(job: Job, crew: Crew, day: date = MONDAY, number: int = 1) -> None:
    """Put a day of the crew on the job."""
    make_day(job, crew, scope=job.agreed_scope, date=day, number=number)


def doubled(job: Job, crew: Crew) -> Job:
    """Let the crew be on two jobs on Monday; return the other."""
    other = agreed_job(job.company)
    on(job, crew)
    on(other, crew)
    return other


def said(visitor: Visitor, query: str = "") -> str:
    return " ".join(visitor.get(reverse("board") + query).content.decode().split())


def keep(visitor: Visitor, conflict: str, reason: str) -> int:
    sent = {"conflict": conflict, "reason": reason}
    return visitor.post(reverse("board-keep"), sent).status_code


def test_a_conflict_stands_until_it_is_kept_with_a_reason(
    visitor: Visitor, job: Job, crew: Crew, owner: User
) -> None:
    doubled(job, crew)
    [conflict] = conflicts_of(job.company, today=MONDAY)
    assert conflict.text in said(visitor)
    assert keep(visitor, conflict.key, "") == 422
    assert not KeptConflict.objects.exists()
    assert keep(visitor, conflict.key, "The second is a repair of an hour") == 303
    kept = KeptConflict.objects.get()
    assert (kept.who, kept.reason) == (owner.name, "The second is a repair of an hour")
    page = said(visitor)
    assert "Conflicts that are kept" in page
    assert "The second is a repair of an hour" in page
    assert "Keep it as it is" not in page
    assert AuditLine.objects.filter(subject="board").count() == 1


def test_kept_twice_the_first_reason_stands(visitor: Visitor, job: Job, crew: Crew) -> None:
    doubled(job, crew)
    [conflict] = conflicts_of(job.company, today=MONDAY)
    assert [keep(visitor, conflict.key, each) for each in ("First", "Second")] == [303, 303]
    assert KeptConflict.objects.get().reason == "First"


def test_a_conflict_that_is_gone_is_not_kept_and_the_reason_is_not_lost(
    visitor: Visitor, job: Job, crew: Crew
) -> None:
    other = doubled(job, crew)
    [conflict] = conflicts_of(job.company, today=MONDAY)
    other.days.all().delete()
    answer = visitor.post(reverse("board-keep"), {"conflict": conflict.key, "reason": "A repair"})
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "this one is gone or has changed" in page
    assert "The reason that you typed: “A repair”" in page
    assert not KeptConflict.objects.exists()


def test_a_third_job_makes_it_open_again(visitor: Visitor, job: Job, crew: Crew) -> None:
    doubled(job, crew)
    [conflict] = conflicts_of(job.company, today=MONDAY)
    keep(visitor, conflict.key, "A repair")
    on(agreed_job(job.company), crew)
    assert "Keep it as it is" in said(visitor)


def test_taken_up_again_it_is_open(visitor: Visitor, job: Job, crew: Crew) -> None:
    doubled(job, crew)
    [conflict] = conflicts_of(job.company, today=MONDAY)
    keep(visitor, conflict.key, "A repair")
    visitor.post(reverse("board-take-up", args=[KeptConflict.objects.get().pk]))
    assert "Keep it as it is" in said(visitor)


def test_only_the_days_that_clash_are_marked(job: Job, crew: Crew) -> None:
    # Bo is in both crews on Monday, Cy and the second crew's Tuesday are free of it.
    second = make_crew(job.company, *crew.members.all(), make_person(job.company, name="Cy Dunn"))
    other = agreed_job(job.company)
    on(job, crew)
    on(other, second)
    on(other, second, MONDAY + timedelta(days=1), number=2)
    board = board_of(job.company, monday=MONDAY, today=MONDAY)
    marked = {lane.name: [square.clashes for square in lane.squares[:2]] for lane in board.people}
    assert marked == {"Bo Reed": [True, False], "Cy Dunn": [False, False]}
    crews = {lane.name: [square.clashes for square in lane.squares[:2]] for lane in board.crews}
    assert crews == {crew.name: [True, False], second.name: [True, False]}


def test_what_is_kept_is_not_marked(visitor: Visitor, job: Job, crew: Crew) -> None:
    doubled(job, crew)
    [conflict] = conflicts_of(job.company, today=MONDAY)
    assert "clash" in said(visitor)
    keep(visitor, conflict.key, "A repair")
    assert "clash" not in said(visitor)


def test_days_that_are_over_are_no_conflict(job: Job, crew: Crew) -> None:
    doubled(job, crew)
    assert conflicts_of(job.company, today=MONDAY + timedelta(days=1)) == []


def test_a_hold_on_a_planned_day_is_a_conflict(job: Job, crew: Crew) -> None:
    hold_asbestos(job)
    on(job, crew)
    day = job.days.get()
    day.entries = [{"task": "tear_out"}]
    day.save()
    assert [one.kind for one in conflicts_of(job.company, today=MONDAY)] == ["gate"]
    day.entries = [{"task": "clean"}]
    day.save()
    assert conflicts_of(job.company, today=MONDAY) == []


def test_jobs_without_a_day_stand_beneath_with_what_clears_them(visitor: Visitor, job: Job) -> None:
    hold_asbestos(job)
    page = said(visitor)
    assert "The old floor may hold asbestos" in page
    assert "until a competent inspector has cleared it in writing" in page
    assert reverse("hold-clear", args=[job.pk, "asbestos"]) in page


def test_free_days_and_halves_are_named(visitor: Visitor, job: Job, crew: Crew) -> None:
    on(job, crew)
    day = job.days.get()
    day.hours = 4
    day.save()
    # One person, four of eight hours; three weeks end on Friday, March 19.
    assert f"{crew.name}: free from Tue, Mar 2; half free on Mon, Mar 1." in said(visitor)


def test_a_weekend_stands_on_the_board_only_where_somebody_works(job: Job, crew: Crew) -> None:
    saturday = MONDAY + timedelta(days=5)
    assert len(board_of(job.company, monday=MONDAY, today=MONDAY).dates) == 15
    on(job, crew, saturday)
    dates = board_of(job.company, monday=MONDAY, today=MONDAY).dates
    assert (len(dates), saturday in dates) == (16, True)


@pytest.mark.parametrize("typed", ["", "soon", "9999-12-31", "0001-01-01", "2027-02-30"])
def test_a_week_that_can_not_be_read_is_this_one(visitor: Visitor, job: Job, typed: str) -> None:
    assert "Board, Mar 1 to Mar 21, 2027" in said(visitor, f"?from={typed}")


def test_a_company_without_crews_is_led_to_add_one(visitor: Visitor) -> None:
    assert reverse("crew-add") in said(visitor)


def test_nothing_of_another_company_is_on_the_board(job: Job, crew: Crew) -> None:
    from tests.builders import make_company

    doubled(job, crew)
    other = make_company("Other Floors")
    board = board_of(other, monday=MONDAY, today=MONDAY)
    assert (board.crews, board.people, board.conflicts) == ((), (), ())
