"""Whom and when days are laid out for: weekends, holidays, weeks of daylight saving; kept as it is.

16 h of work and half an hour on the road a day for one person of eight hours: 7 1/2 h a day, three
days.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from decimal import Decimal

import pytest

from jobs.domain.days.crew import CrewDay
from jobs.domain.scope.laid_for.basis import (
    LaidFor,
    basis_from,
    days_laid_for,
    laid_for,
    stored_basis,
)
from jobs.domain.tasks import Task

FRIDAY = date(2027, 3, 12)
"""The Friday before the second Sunday of March, when clocks go forward (15 U.S.C. 260a)."""
ALONE = CrewDay(people=1)
TASKS = (
    Task(code="setup", label="Set up", zone="", hours=Decimal(16), basis="for a test"),
    Task(
        code="travel",
        label="Travel",
        zone="",
        hours=Decimal("1.5"),
        basis="for a test",
        per_day=Decimal("0.5"),
    ),
)


def every_weekday(day: date) -> bool:
    return day.weekday() < 5


def dates(basis: LaidFor) -> list[date]:
    days = basis.days(TASKS, {})
    assert days is not None
    return [day.date for day in days]


def test_a_weekend_on_which_clocks_change_is_a_weekend() -> None:
    basis = laid_for(ALONE, FRIDAY, every_weekday, saturdays=False)
    assert dates(basis) == [FRIDAY, date(2027, 3, 15), date(2027, 3, 16)]


def test_saturdays_are_worked_where_that_is_wished() -> None:
    basis = laid_for(ALONE, FRIDAY, lambda day: day.weekday() < 6, saturdays=True)
    assert dates(basis) == [FRIDAY, FRIDAY + timedelta(days=1), date(2027, 3, 15)]


def test_a_day_off_is_kept_and_left_out() -> None:
    monday = date(2027, 3, 15)
    works: Callable[[date], bool] = lambda day: every_weekday(day) and day != monday  # noqa: E731
    basis = laid_for(ALONE, FRIDAY, works, saturdays=False)
    assert basis.off == (monday,)
    assert dates(basis) == [FRIDAY, date(2027, 3, 16), date(2027, 3, 17)]


def test_it_is_kept_and_read_as_it_was() -> None:
    crew = CrewDay(people=2, hours_per_day=Decimal("7.5"), leaving=(date(2027, 3, 20),))
    basis = LaidFor(crew=crew, start=FRIDAY, saturdays=True, off=(date(2027, 3, 15),))
    assert basis_from(stored_basis(basis)) == basis
    assert basis_from(stored_basis(None)) is None


def test_without_a_real_crew_days_begin_on_some_monday() -> None:
    days = days_laid_for(None, TASKS, ALONE, False, {})
    assert days is not None
    assert days[0].date.weekday() == 0


@pytest.mark.parametrize("hours", ["0.25", "0.5"])
def test_a_day_that_the_drive_fills_has_no_days(hours: str) -> None:
    crew = CrewDay(people=1, hours_per_day=Decimal(hours))
    assert laid_for(crew, FRIDAY, every_weekday, saturdays=False).days(TASKS, {}) is None
