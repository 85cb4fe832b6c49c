"""Days on site as a crew is booked for them, whole or half: the scope's own, or laid out as they.

A scope keeps the days that its work was laid onto, without what its homeowner does. Where others
are left work than it says, or it is from before days were kept, they are laid out here by the same
schedule.
"""

from collections.abc import Collection, Sequence
from decimal import Decimal

from estimates.domain.money import cents
from jobs.domain.checks import ZERO
from jobs.domain.days.crew import DaysError
from jobs.domain.days.on_site import booked_for, crew_of_hours, days_on_site
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.scope.split import leaving
from jobs.domain.tasks import Task, crews_work


def days_of_scope(
    scope: FrozenScope, crew_hours: Decimal, left_out: Collection[str] | None = None
) -> Decimal | None:
    """Return the days on site of a scope; `left_out` are codes of tasks that the client does.

    None: those that the scope itself leaves. `crew_hours` are the man-hours a day where the scope
    kept no crew. None where nobody knows the days.
    """
    left = scope.left if left_out is None else left_out
    if scope.schedule is None:
        return booked_days(crews_work(scope.tasks, left), crew_hours)
    there = {task.code for task in scope.tasks}
    if there.intersection(left) == there.intersection(scope.left):
        return scope.schedule.booked or None
    laid = leaving(scope, left).schedule
    return (laid.booked or None) if laid else None


def booked_days(tasks: Sequence[Task], crew_hours: Decimal) -> Decimal | None:
    """Return the days on which a crew of so many man-hours a day is on site, whole or half.

    Work that the client does has no hours in `tasks`; what comes after it doesn't wait for it.
    A day that fills no more than half of the crew's hours is a half one. None where the work
    can't be laid onto days, or there is none.
    """
    try:
        crew = crew_of_hours(crew_hours)
    except DaysError:
        return None
    days = days_on_site(tasks, crew, older=True)
    if days is None:
        return None
    return sum((booked_for(day.crew_hours, crew.capacity) for day in days), ZERO) or None


def per_day(amount: Decimal, days: Decimal | None) -> Decimal | None:
    """Return an amount by the days on site, in cents; None where nobody knows them."""
    return cents(amount / days) if days else None
