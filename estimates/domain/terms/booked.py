"""Days on site as a crew is booked for them, whole or half: the scope's own, or laid out as they.

A scope keeps the days that its work was laid onto. Where the client does a part of the work, or the
scope is from before days were kept, they are laid out here by the same schedule.
"""

from collections.abc import Collection, Sequence
from dataclasses import replace
from decimal import Decimal

from estimates.domain.money import cents
from jobs.domain.checks import ZERO
from jobs.domain.days.days import CrewDay, DaysError
from jobs.domain.days.on_site import booked_for, crew_of_hours, days_on_site
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.tasks import Task


def days_of_scope(
    scope: FrozenScope, crew_hours: Decimal, left_out: Collection[str] = ()
) -> Decimal | None:
    """Return the days on site of a scope; `left_out` are codes of tasks that the client does.

    `crew_hours` are the man-hours a day where the scope kept no crew. None where nobody knows them.
    """
    kept = scope.schedule
    tasks = [task for task in scope.tasks if task.code not in left_out]
    if kept is None:
        return booked_days(tasks, crew_hours)
    if len(tasks) == len(scope.tasks):
        return kept.booked or None
    return _booked(tasks, kept.crew)


def booked_days(tasks: Sequence[Task], crew_hours: Decimal) -> Decimal | None:
    """Return the days on which a crew of so many man-hours a day is on site, whole or half.

    Work that the client does is left out of `tasks`; what comes after it doesn't wait for it.
    A day that fills no more than half of the crew's hours is a half one. None where the work
    can't be laid onto days, or there is none.
    """
    try:
        crew = crew_of_hours(crew_hours)
    except DaysError:
        return None
    return _booked(tasks, crew)


def _booked(tasks: Sequence[Task], crew: CrewDay) -> Decimal | None:
    known = {task.key for task in tasks}
    alone = [
        replace(task, after=tuple(key for key in task.after if key in known)) for task in tasks
    ]
    days = days_on_site(alone, crew)
    if days is None:
        return None
    return sum((booked_for(day.crew_hours, crew.capacity) for day in days), ZERO) or None


def per_day(amount: Decimal, days: Decimal | None) -> Decimal | None:
    """Return an amount by the days on site, in cents; None where nobody knows them."""
    return cents(amount / days) if days else None
