"""One drives out for what one does in time: two don't come for two hours of paint."""

from __future__ import annotations

from dataclasses import replace

import pytest

from jobs.domain.days.crew import CrewDay
from jobs.domain.schedule.choosing import worked_days
from jobs.domain.schedule.people import Team, named_people
from jobs.domain.schedule.planning import Setting
from jobs.domain.schedule.step import StepNeed
from tests.jobs.domain.schedule.bench.test_evenings import MONDAY
from tests.jobs.domain.schedule.bench.test_wet import on_a_story


def painted(paint: int) -> Setting:
    """Leveler on Monday, so many half hours of paint on Tuesday, rows once both are dry."""
    steps = (
        on_a_story("tear_out", "den", 8),
        on_a_story("prep", "den", 8, "tear_out:den"),
        on_a_story("level", "den", 4, "prep:den", wait=192),
        on_a_story("paint", "den", paint, "prep:den", "level:den", wait=48),
        on_a_story("lay", "den", 20, "paint:den", "level:den"),
    )
    borne = (StepNeed(key="level:den", dry=False, least=40),)  # bears who paints the next morning
    by_two = [replace(s, most=2, needs=borne if s.task.code == "paint" else s.needs) for s in steps]
    crew = named_people(CrewDay(people=2))
    works = lambda day: day.weekday() < 5  # noqa: E731
    return Setting(steps=tuple(by_two), team=Team(people=crew), start=MONDAY, working=works)


def who_paints(setting: Setting) -> set[int]:
    days = worked_days(setting)
    return {spell.person for day in days for spell in day.spells if spell.key == "paint:den"}


@pytest.mark.parametrize(
    ("paint", "people"),
    [
        (16, {0}),  # eight hours: the lead's whole day
        (18, {0, 1}),  # an hour more than that: two drive out
    ],
)
def test_one_paints_what_one_has_the_day_for(paint: int, people: set[int]) -> None:
    assert who_paints(painted(paint)) == people
