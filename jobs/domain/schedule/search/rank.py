"""How good the days of a job are: when they end, what nobody would lay out so, nights, standing."""

from collections.abc import Sequence
from datetime import date, timedelta
from itertools import pairwise
from typing import NamedTuple

from jobs.domain.schedule.bench.evenings import early_evenings, rides_along
from jobs.domain.schedule.bench.standing import stands_from, stood
from jobs.domain.schedule.bench.stories import goes_back, turns
from jobs.domain.schedule.bench.wet import dusty_pours
from jobs.domain.schedule.bench.worked import WorkedDay
from jobs.domain.schedule.leaving import scant_runs
from jobs.domain.schedule.lived_in import lived_in
from jobs.domain.schedule.planning import LEAST_HALVES, YEAR, Setting

MOST_TURNS = 4
"""How often somebody may change the story on a day where other days end no later."""
A_HABIT = 4
"""Evenings before their time and days of an hour weigh so many nights of a room."""


class DaysRank(NamedTuple):
    """How good days are, the best the least.

    They end on `ends`, a worked day later where they are `senseless`; `weighs` is what a lead or
    the homeowner would rather not have, nights included, `stood` half hours that somebody stands
    about, and `odd` the first of these without the nights.
    """

    ends: date
    senseless: bool
    weighs: int
    stood: int
    odd: int


NO_DAYS = DaysRank(date.max, True, 0, 0, 0)


def rank(days: Sequence[WorkedDay], setting: Setting) -> DaysRank:
    """Return how good days are: which end sooner, then those worth the drive without running.

    Such days as nobody lays out count as if they ended a worked day later.
    Then come those with fewer evenings on which the crew goes home though the next morning's work
    would have fitted in, fewer days of an hour, fewer runs with less old floor than they take
    hours, less old floor that comes out beside wet leveler, no flooring that rides to the dump and
    fewer nights of rooms that somebody lives by; and then those with less standing about.
    """
    if not days:
        return NO_DAYS
    story = {step.key: step.task.zone for step in setting.steps}
    runs = any(turns(day, story) > MOST_TURNS for day in days) or goes_back(days, setting.steps)
    few = sum(d.on_site < LEAST_HALVES or stands_from(d) is not None for d in days[1:])
    odd = A_HABIT * (early_evenings(days, setting) + few)
    odd += 2 * scant_runs(days) + rides_along(days) + 2 * dusty(days, setting)
    senseless = runs or short(days) is not None
    ends = _after(days[-1].date, setting) if senseless else days[-1].date
    return DaysRank(ends, senseless, odd + nights(days, setting), sum(map(stood, days)), odd)


def dusty(days: Sequence[WorkedDay], setting: Setting) -> int:
    """Return on how many days old floor comes out beside leveler, though it could wait.

    Who is alone pours before the run to the dump, and goes on as it comes.
    """
    if len(setting.team.people) < 2:
        return 0
    return dusty_pours(days, {step.key: step for step in setting.steps})


def nights(days: Sequence[WorkedDay], setting: Setting, *, unasked: bool = False) -> int:
    """Return for how many nights rooms that somebody lives by are open, all of them together.

    Only the `unasked` ones: those of rooms whose nights nobody agreed to.
    """
    return sum(
        (following.date - day.date).days
        for room in lived_in(setting.steps)
        if not (unasked and room.name in setting.agreed)
        for day, following in pairwise(days)
        if room.is_opened(day.after) and not room.is_closed(day.after)
    )


def short(days: Sequence[WorkedDay]) -> int | None:
    """Return the place of the first day that is not worth the drive."""
    for place, day in enumerate(days):
        beside = day.waits or (place > 0 and days[place - 1].waits)
        if place and day.on_site < LEAST_HALVES and not beside:
            return place
    return None


def scant(days: Sequence[WorkedDay]) -> int | None:
    """Return the place of the first day under two hours after the first, also beside a wait."""
    for place, day in enumerate(days):
        if place and day.on_site < LEAST_HALVES:
            return place
    return None


def _after(day: date, setting: Setting) -> date:
    """Return the next day that is worked; this one where none is for a year."""
    later = (day + timedelta(days=number) for number in range(1, YEAR))
    return next((one for one in later if setting.working(one)), day)
