"""Days lost, moved and held: what follows, what is refused, two owners at once, undone."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from jobs.domain.checks import BadValueError
from jobs.models import Crew, DaysChange, Job, User, WorkDay
from jobs.readers.chart.effect import whole_effect
from jobs.services.moved_days.replan import DayMove, Replan, replanned, seen_as
from jobs.services.moved_days.saving import save_change, undo_change
from tests.builders import make_company, make_log_entry, make_person
from tests.jobs.agreed import MONDAY, a_crew, agreed_job, laid_out

pytestmark = pytest.mark.django_db
TUESDAY, WEDNESDAY, THURSDAY = (MONDAY + timedelta(days=number) for number in (1, 2, 3))
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


def day_of(job: Job, number: int) -> WorkDay:
    return job.days.select_related("job__company", "crew", "scope__document").get(number=number)


def dates(job: Job) -> list[date]:
    return list(job.days.order_by("number").values_list("date", flat=True))


def saved(job: Job, user: User, number: int, kind: str, **move: Any) -> DaysChange:
    """Save a change as it was just seen."""
    wanted = DayMove(kind=kind, day=day_of(job, number), **move)
    seen = seen_as(job.days.order_by("date"))
    return save_change(
        move=wanted, user=user, key=f"{kind}{number}", reason="Rain", seen=seen, today=MONDAY
    )


def lost(job: Job, number: int, today: date = MONDAY) -> Replan:
    return replanned(DayMove(kind="lost", day=day_of(job, number)), today)


def test_a_lost_day_comes_later_and_those_before_stay(job: Job, owner: User) -> None:
    first, second = day_of(job, 1), day_of(job, 2)
    saved(job, owner, 2, "lost")
    assert dates(job) == [MONDAY, WEDNESDAY, THURSDAY, MONDAY + timedelta(days=4)]
    assert day_of(job, 1).entries == first.entries
    assert day_of(job, 2).pk == second.pk
    rows = [entry["rows"] for day in job.days.all() for entry in day.entries if entry["rows"]]
    assert [row for a, b in rows for row in range(a, b + 1)] == list(range(1, 9))


def test_a_second_lost_day_keeps_the_first_lost(job: Job, owner: User) -> None:
    saved(job, owner, 2, "lost")
    saved(job, owner, 1, "lost")
    assert dates(job)[:2] == [WEDNESDAY, THURSDAY]


def test_nothing_is_written_by_looking(job: Job) -> None:
    assert lost(job, 2).then[-1].date == MONDAY + timedelta(days=4)
    assert dates(job) == [MONDAY, TUESDAY, WEDNESDAY, THURSDAY]


def test_a_day_is_moved_to_a_saturday_that_is_worked_for_it(job: Job, owner: User) -> None:
    saved(job, owner, 4, "moved", to=SATURDAY)
    assert dates(job) == [MONDAY, TUESDAY, WEDNESDAY, SATURDAY]


def test_a_task_is_held_to_a_date(job: Job, owner: User) -> None:
    saved(job, owner, 2, "held", task="lay:Den", to=THURSDAY)
    laying = [day for day in job.days.all() if any(e["task"] == "lay" for e in day.entries)]
    # Monday stays as it is; what was to be laid from Tuesday on waits.
    assert [day.date for day in laying][:2] == [MONDAY, THURSDAY]


def test_undone_the_days_lie_as_before(job: Job, owner: User) -> None:
    before = list(job.days.values_list("pk", "number", "date", "hours"))
    undo_change(change=saved(job, owner, 2, "lost"), user=owner, today=MONDAY)
    assert list(job.days.values_list("pk", "number", "date", "hours")) == before


def test_what_came_after_a_change_keeps_it_from_being_undone(job: Job, owner: User) -> None:
    change = saved(job, owner, 2, "lost")
    make_log_entry(day_of(job, 2), owner)
    with pytest.raises(BadValueError, match="accepted: days ahead without log entries"):
        undo_change(change=change, user=owner, today=MONDAY)


def test_days_laid_out_anew_keep_a_change_from_being_undone(
    job: Job, owner: User, crew: Crew
) -> None:
    change = saved(job, owner, 2, "lost")
    laid_out(job, crew, start=THURSDAY)
    with pytest.raises(BadValueError, match="laid out anew since"):
        undo_change(change=change, user=owner, today=MONDAY)


def test_the_second_of_two_owners_is_told_who_was_first(job: Job, owner: User) -> None:
    seen = seen_as(job.days.order_by("date"))
    saved(job, owner, 2, "lost")
    second = make_person(job.company, name="Ines Okafor")
    move = DayMove(kind="lost", day=day_of(job, 3))
    with pytest.raises(BadValueError, match=r"changed \(lost day\) by Mara Quill at .*: Rain"):
        save_change(move=move, user=second, key="k", reason="Key", seen=seen, today=MONDAY)
    assert job.days_changes.count() == 1


def test_a_day_in_the_past_is_not_changed(job: Job) -> None:
    with pytest.raises(BadValueError, match="no day in the past is changed"):
        lost(job, 1, today=TUESDAY)


def test_a_day_that_was_logged_is_not_changed(job: Job, owner: User) -> None:
    make_log_entry(day_of(job, 3), owner)
    with pytest.raises(BadValueError, match="what was logged stays"):
        lost(job, 2)


@pytest.mark.parametrize("to", [None, MONDAY - timedelta(days=1), MONDAY + timedelta(days=400)])
def test_a_date_that_cannot_be_is_refused(job: Job, to: date | None) -> None:
    with pytest.raises(BadValueError, match=r"to is .*another day than"):
        replanned(DayMove(kind="moved", day=day_of(job, 2), to=to), MONDAY)


def test_a_day_is_not_moved_before_one_that_stays(job: Job) -> None:
    with pytest.raises(BadValueError, match="the days before stay where they are"):
        replanned(DayMove(kind="moved", day=day_of(job, 3), to=TUESDAY), MONDAY)


def test_a_crew_at_two_jobs_on_one_day_is_said_by_name(job: Job, owner: User, crew: Crew) -> None:
    other = agreed_job(owner.company)
    laid_out(other, crew, start=MONDAY + timedelta(days=4))
    friday = MONDAY + timedelta(days=4)
    day = day_of(job, 4)
    plan = replanned(DayMove(kind="moved", day=day, to=friday), MONDAY)
    lines = {line.name: (line.now, line.then) for line in whole_effect(day, plan.now, plan.then)}
    name = crew.members.get().name
    both = f"on two jobs: {other.number} and {job.number}"
    assert lines[f"{name}, Fri, Mar 5"] == (f"on job {other.number}", both)
    assert lines[f"{crew} on Thu, Mar 4"] == ("here", "free")
    assert lines["Job done"] == ("Thu, Mar 4", "Fri, Mar 5")
