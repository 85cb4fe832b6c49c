"""A real crew from a real first day on, as the days of a scope are laid out for it.

Where nobody is named yet, a scope is laid out for the company's usual crew from a Monday on
(`jobs.domain.days.on_site`).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from typing import TypedDict

from jobs.domain.days.crew import CrewDay, DaysError, PlannedDay
from jobs.domain.days.days import YEAR, plan_days
from jobs.domain.days.on_site import SATURDAY, days_on_site
from jobs.domain.documents import plain_decimal
from jobs.domain.tasks import Task


class StoredBasis(TypedDict, total=False):
    """What days were laid out for, as rows keep it; empty: the usual crew from a Monday on."""

    people: int
    hours_per_day: str
    leaving: list[str]
    start: str
    saturdays: bool
    off: list[str]


@dataclass(frozen=True, kw_only=True, slots=True)
class LaidFor:
    """A crew, its first day, and when it works.

    `off`: days within a year that would be worked by their day of the week and are not, as holidays
    and the crew's other jobs.
    """

    crew: CrewDay
    start: date
    saturdays: bool = False
    off: tuple[date, ...] = ()

    def works(self, day: date) -> bool:
        """Whether the crew works on a day."""
        return day.weekday() <= SATURDAY - (not self.saturdays) and day not in self.off

    def days(
        self, tasks: Sequence[Task], agreed: Mapping[str, bool], *, quick: bool = False
    ) -> tuple[PlannedDay, ...] | None:
        """Return the days of these tasks; None where they can't be laid onto days.

        A hold that is still open takes no day away. `quick` as `plan_days`.
        """
        holds = {hold for task in tasks for hold in task.hold_points}
        try:
            return plan_days(
                tasks,
                self.crew,
                self.start,
                self.works,
                today=self.start,
                cleared=holds,
                agreed=agreed,
                quick=quick,
            )
        except DaysError:
            return None


def laid_for(
    crew: CrewDay, start: date, works: Callable[[date], bool], *, saturdays: bool
) -> LaidFor:
    """Return a crew from a day on, with the days of the year after it that are not worked."""
    every = LaidFor(crew=crew, start=start, saturdays=saturdays)
    year = (start + timedelta(days=number) for number in range(YEAR))
    off = tuple(day for day in year if every.works(day) and not works(day))
    return LaidFor(crew=crew, start=start, saturdays=saturdays, off=off)


def days_laid_for(
    basis: LaidFor | None,
    tasks: Sequence[Task],
    crew: CrewDay,
    older: bool,
    agreed: Mapping[str, bool],
    *,
    quick: bool = False,
) -> tuple[PlannedDay, ...] | None:
    """Return the days of these tasks for a real crew; without one, from some Monday on."""
    if basis is None or older:
        return days_on_site(tasks, crew, older, agreed, quick=quick)
    return basis.days(tasks, agreed, quick=quick)


def stored_basis(basis: LaidFor | None) -> StoredBasis:
    """Return what days are laid out for as rows keep it."""
    if basis is None:
        return {}
    return {
        "people": basis.crew.people,
        "hours_per_day": plain_decimal(basis.crew.hours_per_day),
        "leaving": [day.isoformat() for day in basis.crew.leaving],
        "start": basis.start.isoformat(),
        "saturdays": basis.saturdays,
        "off": [day.isoformat() for day in basis.off],
    }


def basis_from(kept: StoredBasis) -> LaidFor | None:
    """Return what days were laid out for; None: the usual crew from a Monday on."""
    if not kept:
        return None
    read = date.fromisoformat
    crew = CrewDay(
        people=kept["people"],
        hours_per_day=Decimal(kept["hours_per_day"]),
        leaving=tuple(read(day) for day in kept["leaving"]),
    )
    return LaidFor(
        crew=crew,
        start=read(kept["start"]),
        saturdays=kept["saturdays"],
        off=tuple(read(day) for day in kept["off"]),
    )
