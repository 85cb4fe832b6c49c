"""Days on site as a crew is booked for them, whole or half, by the schedule that lays them out.

Where nobody knows the first day yet, work begins on a Monday and is laid onto weekdays; how many
days there are hardly hangs on it. A hold that is still open takes no day away.
"""

from collections.abc import Mapping, Sequence
from datetime import date
from decimal import ROUND_DOWN, ROUND_HALF_UP, Decimal

from jobs.domain.checks import ONE
from jobs.domain.days.crew import CrewDay, DaysError, PlannedDay
from jobs.domain.days.days import plan_days
from jobs.domain.days.older import plan_older_days
from jobs.domain.tasks import Task

HALF = Decimal("0.5")
PERSON_DAY = Decimal(8)
"""What a person works a day where only the whole crew's hours are known; common practice."""
SOME_MONDAY = date(2001, 1, 1)
SATURDAY = 5


def crew_of_hours(crew_hours: Decimal) -> CrewDay:
    """Return the crew that works so many man-hours a day: people of about eight hours each.

    Raises DaysError where no crew has such a day.
    """
    people = max(1, int((crew_hours / PERSON_DAY).quantize(ONE, ROUND_HALF_UP)))
    each = (crew_hours / people).quantize(Decimal("0.01"), ROUND_DOWN)
    return CrewDay(people=people, hours_per_day=each)


def days_on_site(
    tasks: Sequence[Task],
    crew: CrewDay,
    older: bool = False,
    agreed: Mapping[str, bool] | None = None,
    *,
    quick: bool = False,
) -> tuple[PlannedDay, ...] | None:
    """Return the days of these tasks; None where they can't be laid onto days.

    `older` ones are laid out as they were before days knew half hours. `agreed` and `quick` as
    `plan_days`.
    """
    holds = {hold for task in tasks for hold in task.hold_points}
    start = SOME_MONDAY
    try:
        if older:
            return plan_older_days(tasks, crew, start, _is_weekday, today=start, cleared=holds)
        return plan_days(
            tasks,
            crew,
            start,
            _is_weekday,
            today=start,
            cleared=holds,
            agreed=agreed,
            quick=quick,
        )
    except DaysError:
        return None


def _is_weekday(day: date) -> bool:
    return day.weekday() < SATURDAY


def booked_for(hours: Decimal, crew_hours: Decimal) -> Decimal:
    """Return what is booked for so many man-hours of one day: half a day, or a whole one.

    A day that fills no more than half of the crew's hours is a half one; one without work is none.
    """
    if not hours:
        return Decimal(0)
    return HALF if hours * 2 <= crew_hours else ONE
