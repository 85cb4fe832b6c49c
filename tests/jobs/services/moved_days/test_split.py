"""A task or a day split: what stays, what goes on when and with whom; refused; undone.

The job of one person: Monday set up, tear out and row 1; rows 2 to 5 on Tuesday (2 h each), rows 6
to 8 and an hour and a half of base on Wednesday, the rest of it and the cleaning on Thursday.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from jobs.domain.checks import BadValueError
from jobs.models import Crew, DaysChange, Job, User, WorkDay
from jobs.readers.chart.effect import whole_effect
from jobs.services.moved_days.replan import DayMove, replanned, seen_as
from jobs.services.moved_days.saving import save_change, undo_change
from jobs.services.moved_days.split import split_choices
from tests.builders import make_company, make_day, make_person
from tests.jobs.agreed import MONDAY, a_crew, agreed_job, laid_out

pytestmark = pytest.mark.django_db
TUESDAY, WEDNESDAY, THURSDAY, FRIDAY = (MONDAY + timedelta(days=number) for number in (1, 2, 3, 4))


@pytest.fixture
def owner() -> User:
    """An owner."""
    return make_person(make_company(), name="Mara Quill")


@pytest.fixture
def job(owner: User) -> Job:
    """A job of one person from Monday to Thursday."""
    job = agreed_job(owner.company)
    laid_out(job, a_crew(job.company))
    return job


@pytest.fixture
def pair(owner: User) -> Crew:
    """Another crew, of two."""
    assert owner.company is not None
    return a_crew(owner.company, people=2)


def day_of(job: Job, number: int) -> WorkDay:
    return job.days.select_related("job__company", "crew", "scope__document").get(number=number)


def a_split(job: Job, number: int, task: str, stays: str, to: date, crew: Crew | None) -> DayMove:
    day = day_of(job, number)
    return DayMove(kind="split", day=day, task=task, stays=stays, to=to, crew=crew)


def split(
    job: Job, user: User, number: int, *, stays: str, to: date, task: str = "", crew: Any = None
) -> DaysChange:
    """Save a split as it was just seen."""
    move = a_split(job, number, task, stays, to, crew)
    seen = seen_as(job.days.order_by("date"))
    key = f"{number}{task}{stays}"
    return save_change(move=move, user=user, key=key, reason="Key", seen=seen, today=MONDAY)


def rows(job: Job) -> dict[date, list[int]]:
    """Rows by date."""
    return {
        day.date: entry["rows"]
        for day in job.days.order_by("date")
        for entry in day.entries
        if entry["rows"]
    }


def dates(job: Job) -> list[date]:
    return [day.date for day in job.days.order_by("number")]


def test_rows_after_the_one_that_stays_wait_for_the_date(job: Job, owner: User) -> None:
    split(job, owner, 2, task="lay:Den", stays="row 3", to=THURSDAY)
    assert rows(job) == {MONDAY: [1, 1], TUESDAY: [2, 3], THURSDAY: [4, 7], FRIDAY: [8, 8]}


def test_half_a_day_goes_on_on_another_date(job: Job, owner: User) -> None:
    split(job, owner, 2, stays="4", to=THURSDAY)
    # Two rows of two hours are the half day; nothing lies on Wednesday, Thursday has four rows.
    assert rows(job) == {MONDAY: [1, 1], TUESDAY: [2, 3], THURSDAY: [4, 7], FRIDAY: [8, 8]}
    assert WEDNESDAY not in dates(job)


def test_the_rest_of_a_task_goes_to_another_crew(job: Job, owner: User, pair: Crew) -> None:
    split(job, owner, 2, task="lay:Den", stays="3", to=WEDNESDAY, crew=pair)
    # Two people lay the five rows that are left in 5 h, put the base on in 2 and clean in 1/2.
    assert rows(job) == {MONDAY: [1, 1], TUESDAY: [2, 3], WEDNESDAY: [4, 8]}
    assert [day.crew == pair for day in job.days.order_by("date")] == [False, False, True]
    people = {lane["person"] for lane in day_of(job, 3).lanes}
    assert people == {"Lead", "Installer 2"}


def test_a_whole_day_is_given_to_another_crew_on_its_date(
    job: Job, owner: User, pair: Crew
) -> None:
    split(job, owner, 2, stays="0", to=TUESDAY, crew=pair)
    assert [day.crew == pair for day in job.days.order_by("date")][:2] == [False, True]
    assert rows(job) == {MONDAY: [1, 1], TUESDAY: [2, 8]}


def test_what_was_split_stays_split_where_a_later_change_comes(job: Job, owner: User) -> None:
    split(job, owner, 2, task="lay:Den", stays="3", to=FRIDAY)
    move = DayMove(kind="lost", day=day_of(job, 1))
    seen = seen_as(job.days.order_by("date"))
    save_change(move=move, user=owner, key="k", reason="Rain", seen=seen, today=MONDAY)
    # All begins on Tuesday; Wednesday has rows 2 and 3 and no more; row 4 waits for Friday.
    assert rows(job)[TUESDAY] == [1, 1]
    assert rows(job)[WEDNESDAY] == [2, 3]
    assert rows(job)[FRIDAY][0] == 4


def test_the_hours_of_a_split_count_from_the_start_of_the_task(job: Job, owner: User) -> None:
    split(job, owner, 3, task="base:Den", stays="1/2", to=FRIDAY)
    base = {
        day.date: entry["booked"]
        for day in job.days.order_by("date")
        for entry in day.entries
        if entry["task"] == "base"
    }
    assert base == {WEDNESDAY: "0.5", FRIDAY: "2.5"}


def test_days_laid_out_again_keep_what_was_split(job: Job, owner: User, pair: Crew) -> None:
    split(job, owner, 2, task="lay:Den", stays="3", to=THURSDAY, crew=pair)
    was = rows(job)
    laid_out(job, day_of(job, 1).crew)
    assert rows(job) == was == {MONDAY: [1, 1], TUESDAY: [2, 3], THURSDAY: [4, 8]}
    assert job.days.get(date=THURSDAY).crew == pair
    laid_out(job, day_of(job, 1).crew, afresh=True)
    assert rows(job)[TUESDAY] == [2, 5]


def test_undone_the_days_and_their_crews_are_as_before(job: Job, owner: User, pair: Crew) -> None:
    before = list(job.days.values_list("number", "date", "hours", "crew"))
    change = split(job, owner, 2, stays="0", to=TUESDAY, crew=pair)
    undo_change(change=change, user=owner, today=MONDAY)
    assert list(job.days.values_list("number", "date", "hours", "crew")) == before


def test_the_effect_names_the_crew_of_each_day_and_who_is_doubled(
    job: Job, owner: User, pair: Crew
) -> None:
    other = agreed_job(owner.company)
    laid_out(other, pair, start=TUESDAY)
    day = day_of(job, 2)
    plan = replanned(a_split(job, 2, "", "0", TUESDAY, pair), MONDAY)
    lines = {line.name: (line.now, line.then) for line in whole_effect(day, plan.now, plan.then)}
    assert lines["Day 2"] == (f"Tue, Mar 2, {day.crew}", f"Tue, Mar 2, {pair}")
    assert lines["Job done"] == ("Thu, Mar 4", "Wed, Mar 3")
    for person in pair.members.all():
        both = f"on two jobs: {other.number} and {job.number}"
        assert lines[f"{person.name}, Tue, Mar 2"] == (f"on job {other.number}", both)


def test_the_choices_say_how_much_there_is_to_split(job: Job) -> None:
    words = [choice.words for choice in split_choices(day_of(job, 3))]
    assert words[0] == "The whole day, 7 1/2 h on site"
    assert words[1:] == ["Lay the floor (Den), rows 6 to 8", "Base on (Den), 1 1/2 h"]


def test_half_a_day_stays_where_the_crew_is_at_another_job_the_same_day(
    job: Job, owner: User
) -> None:
    other = agreed_job(owner.company)
    make_day(other, day_of(job, 2).crew, other.agreed_scope, date=TUESDAY, hours=4)
    split(job, owner, 2, stays="4", to=WEDNESDAY)
    assert rows(job)[TUESDAY] == [2, 3]


@pytest.mark.parametrize("stays", ["", "five", "1", "9", "2.25", "1/0", "-1"])
def test_rows_that_are_not_on_the_day_are_refused(job: Job, stays: str) -> None:
    with pytest.raises(BadValueError, match=r"accepted: 0, or the last row of this day: 2 to 5"):
        replanned(a_split(job, 2, "lay:Den", stays, THURSDAY, None), MONDAY)


@pytest.mark.parametrize("stays", ["", "noon", "1", "8", "2.25"])
def test_hours_that_the_day_cannot_keep_are_refused(job: Job, stays: str) -> None:
    with pytest.raises(BadValueError, match=r"accepted: 0, or 2 h to 7 1/2 h of this day"):
        replanned(a_split(job, 2, "", stays, THURSDAY, None), MONDAY)


@pytest.mark.parametrize("task", ["", "lay:Den"])
def test_a_date_on_which_nothing_would_be_split_is_refused(job: Job, task: str) -> None:
    with pytest.raises(BadValueError, match="a date after"):
        replanned(a_split(job, 2, task, "3", TUESDAY, None), MONDAY)


def test_a_crew_of_nobody_is_refused(job: Job, owner: User) -> None:
    assert owner.company is not None
    nobody = a_crew(owner.company, people=0)
    with pytest.raises(BadValueError, match="put somebody into it first"):
        replanned(a_split(job, 2, "", "0", TUESDAY, nobody), MONDAY)
