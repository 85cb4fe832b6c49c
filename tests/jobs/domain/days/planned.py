"""Tasks laid onto the working days of a crew, from a Monday on."""

from collections.abc import Callable, Collection, Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from jobs.domain.days.crew import CrewDay, DayEntry, PlannedDay
from jobs.domain.days.days import plan_days
from jobs.domain.tasks import Task

MONDAY = date(2026, 3, 2)


def weekdays_but(days_off: Collection[date]) -> Callable[[date], bool]:
    """Return a calendar of Mondays to Fridays without `days_off`."""
    return lambda day: day.weekday() < 5 and day not in days_off


WEEKDAYS = weekdays_but(())


def a_task(code: str, hours: str, **changes: Any) -> Task:
    given_: dict[str, Any] = {"label": code, "hours": Decimal(hours), "basis": "counted"}
    return Task(code=code, **given_ | changes)


def planned(*tasks: Task, people: int = 1, **changes: Any) -> tuple[PlannedDay, ...]:
    crew = changes.pop("crew", None) or CrewDay(people=people)
    values: dict[str, Any] = {"start": MONDAY, "working": WEEKDAYS, "today": MONDAY}
    return plan_days(tasks, crew, **values | changes)


def entries(days: Sequence[PlannedDay], code: str) -> list[tuple[int, DayEntry]]:
    """The entries of a task with the number of their day."""
    return [(day.number, e) for day in days for e in day.entries if e.task_code == code]


def hours(days: Sequence[PlannedDay], code: str) -> list[tuple[int, Decimal]]:
    return [(number, entry.hours) for number, entry in entries(days, code)]
