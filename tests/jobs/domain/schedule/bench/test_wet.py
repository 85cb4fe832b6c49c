"""Leveler comes after the old floor of its day: nobody tears out beside it where that can wait."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from jobs.domain.days.crew import CrewDay
from jobs.domain.schedule.bench.wet import dusty_pours
from jobs.domain.schedule.choosing import worked_days
from jobs.domain.schedule.people import Team, named_people
from jobs.domain.schedule.planning import Setting
from jobs.domain.schedule.step import Step, StepNeed
from jobs.domain.tasks import Task
from tests.jobs.domain.schedule.bench.test_evenings import MONDAY, setting, worked


def on_a_story(code: str, room: str, halves: int, *after: str, wait: int = 0) -> Step:
    hours = Decimal(halves) / 2
    task = Task(code=code, zone="up", label=code, hours=hours, basis="-")
    needs = tuple(StepNeed(key=key) for key in after)
    key = f"{code}:{room}"
    return Step(
        key=key, task=task, room=room, halves=halves, exact=hours, needs=needs, wait=wait, most=1
    )


STEPS = (
    on_a_story("tear_out", "den", 4),
    on_a_story("level", "den", 2, "tear_out:den", wait=96),
    on_a_story("tear_out", "hall", 6),
    on_a_story("tear_out", "attic", 4),
    on_a_story("paint", "den", 6, "level:den", "tear_out:hall", "tear_out:attic"),
)


def by_two(people: int = 2) -> Setting:
    crew = named_people(CrewDay(people=people))
    works = lambda day: day.weekday() < 5  # noqa: E731
    return Setting(steps=STEPS, team=Team(people=crew), start=MONDAY, working=works)


@pytest.mark.parametrize(
    ("spells", "dusty"),
    [
        ((("tear_out:den", 0, 4), ("level:den", 4, 6), ("tear_out:hall", 6, 12)), 1),
        ((("tear_out:den", 0, 4), ("tear_out:hall", 4, 10), ("level:den", 10, 12)), 0),
    ],
)
def test_old_floor_after_a_pour_on_its_story_is_counted(
    spells: tuple[tuple[str, int, int], ...], dusty: int
) -> None:
    plan = replace(setting(*STEPS))
    days = worked(plan, spells)
    assert dusty_pours(days, {step.key: step for step in STEPS}) == dusty


def test_leveler_waits_for_the_days_tear_out_where_the_job_ends_no_later() -> None:
    plan = by_two()
    days = worked_days(plan)
    torn = max(x.ends for x in days[0].spells if x.key.startswith("tear_out"))
    assert min(x.begins for x in days[0].spells if x.key == "level:den") >= torn
    assert dusty_pours(days, {step.key: step for step in STEPS}) == 0
    assert days[-1].date <= date(2027, 3, 3)
