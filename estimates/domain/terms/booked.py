"""Days on site as a crew is booked for them: whole or half, by the same schedule as the days."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

from estimates.domain.money import cents
from jobs.domain.checks import ONE, ZERO
from jobs.domain.days.days import CrewDay, DaysError, plan_days
from jobs.domain.tasks import Task

HALF = Decimal("0.5")
PERSON_DAY = Decimal(8)
SOME_MONDAY = date(2001, 1, 1)
"""Where the days are laid out from: how many there are doesn't hang on it."""


def booked_days(tasks: Sequence[Task], crew_hours: Decimal) -> Decimal | None:
    """Return the days on which a crew of so many man-hours a day is on site, whole or half.

    Work that the client does is left out of `tasks`; what comes after it doesn't wait for it.
    A day that fills no more than half of the crew's hours is a half one. None where the work
    can't be laid onto days, or there is none.
    """
    people = max(1, int((crew_hours / PERSON_DAY).quantize(ONE, ROUND_HALF_UP)))
    known = {task.key for task in tasks}
    alone = [
        replace(task, after=tuple(key for key in task.after if key in known)) for task in tasks
    ]
    holds = {hold for task in tasks for hold in task.hold_points}
    try:
        crew = CrewDay(people=people, hours_per_day=crew_hours / people)
        days = plan_days(alone, crew, SOME_MONDAY, lambda _: True, today=SOME_MONDAY, cleared=holds)
    except DaysError:
        return None
    worked = [day.crew_hours for day in days if day.crew_hours]
    booked = (HALF if hours * 2 <= crew_hours else ONE for hours in worked)
    return sum(booked, ZERO) or None


def per_day(amount: Decimal, days: Decimal | None) -> Decimal | None:
    """Return an amount by the days on site, in cents; None where nobody knows them."""
    return cents(amount / days) if days else None
