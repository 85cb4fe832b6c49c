"""What the search finds that no fixed order of the work gives, and what it never does."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from random import Random

import pytest

from jobs.domain.schedule import made
from jobs.domain.schedule.bench.worked import WorkedDay
from jobs.domain.schedule.choosing import worked_days
from jobs.domain.schedule.planning import NoDayError, Setting
from jobs.domain.schedule.search import sooner
from jobs.domain.schedule.search.moves import near
from jobs.domain.schedule.search.rank import NO_DAYS, nights, rank
from tests.sweeps.days.checker import faults_of
from tests.sweeps.days.held import Laid
from tests.sweeps.days.made import a_job

LaidOut = tuple[Laid, Setting, list[WorkedDay]]


def laid(number: int) -> LaidOut:
    """A generated job that a lead ended sooner by hand, and the last that was laid out for it."""
    laid_out: list[tuple[Setting, list[WorkedDay]]] = []

    def kept(setting: Setting) -> list[WorkedDay]:
        days = worked_days(setting)
        laid_out.append((setting, days))
        return days

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(made, "worked_days", kept)
        job = a_job(Random(f"41/{number}"))
    return job, *laid_out[-1]


@pytest.fixture(scope="module")
def two_rooms() -> LaidOut:
    return laid(3)


@pytest.mark.parametrize(
    ("number", "quick", "ends"),
    [(3, date(2027, 5, 4), date(2027, 5, 3)), (7, date(2027, 5, 11), date(2027, 5, 10))],
    ids=["flooring comes in later", "one room before another"],
)
def test_a_job_ends_the_day_that_a_lead_ended_it_on(number: int, quick: date, ends: date) -> None:
    job, setting, days = laid(number)

    assert worked_days(replace(setting, quick=True))[-1].date == quick
    assert days[-1].date == ends
    assert faults_of(job) == []


def test_the_same_job_is_laid_out_the_same_again(two_rooms: LaidOut) -> None:
    _, setting, days = two_rooms

    again = worked_days(setting)
    assert [(day.date, day.spells) for day in again] == [(day.date, day.spells) for day in days]


def test_an_order_near_another_has_the_same_steps_and_comes_once(two_rooms: LaidOut) -> None:
    _, setting, _ = two_rooms
    keys = [step.key for step in setting.steps]

    orders = [tuple(step.key for step in one.steps) for one in near(setting)]
    assert len(orders) == len(set(orders)) > 50
    assert tuple(keys) not in orders
    assert all(sorted(order) == sorted(keys) for order in orders)


def test_an_order_that_nobody_can_finish_is_passed_over(
    two_rooms: LaidOut, monkeypatch: pytest.MonkeyPatch
) -> None:
    _, setting, days = two_rooms

    class NeverDone:
        tried = (1,)

        def __init__(self, *_: object) -> None:
            pass

        def days(self, **_: object) -> list[WorkedDay]:
            raise NoDayError(setting.start)

    def lay(_: Setting, __: date | None) -> list[WorkedDay]:
        pytest.fail("nothing that ends sooner was there to be laid out")

    monkeypatch.setattr(sooner, "DayPlan", NeverDone)
    best = sooner.RankedDays.of(setting, days)
    assert sooner.ended_sooner(best, [setting], lay, date(2027, 1, 1)) is best


def test_days_rank_by_their_end_then_by_what_nobody_likes(two_rooms: LaidOut) -> None:
    _, setting, days = two_rooms

    good = rank(days, setting)
    assert rank([], setting) == NO_DAYS > good
    assert (good.ends, good.senseless, good.odd) == (days[-1].date, False, 0)
    quick = rank(worked_days(replace(setting, quick=True)), setting)
    assert good < quick


def test_no_room_is_open_for_a_night_more_but_where_that_was_agreed() -> None:
    _, setting, days = laid(7)
    quick = worked_days(replace(setting, quick=True))

    assert set(setting.agreed) == {"Floor 1 room 1", "Floor 1 room 3"}
    assert nights(days, setting) > nights(quick, setting)
    assert nights(days, setting, unasked=True) == nights(quick, setting, unasked=True) == 0
    unasked = replace(setting, agreed={})
    before, after = worked_days(replace(unasked, quick=True)), worked_days(unasked)
    assert nights(after, unasked) <= nights(before, unasked)


def test_nights_are_those_of_rooms_that_somebody_lives_by() -> None:
    job, setting, days = laid(7)

    assert nights(days, setting) == sum(job.nights.values()) > 0
