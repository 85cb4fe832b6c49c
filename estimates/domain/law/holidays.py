"""The federal holidays, and which days are business days for the right to cancel a sale at home.

Sources: 5 U.S.C. 6103(a) for the eleven days; 6103(b) and Executive Order 11582 for the day that is
kept where one falls on a weekend; 16 CFR 429.0(f) for what a business day is.
"""

from __future__ import annotations

from datetime import date, timedelta

MONDAY, THURSDAY, SATURDAY, SUNDAY = 0, 3, 5, 6
FIRST_JUNETEENTH = 2021
"""Juneteenth is a holiday since Public Law 117-17 of June 17, 2021."""

FIXED = ((1, 1), (6, 19), (7, 4), (11, 11), (12, 25))
"""New Year's Day, Juneteenth, Independence Day, Veterans Day, Christmas Day: month and day."""

MOVING = ((1, MONDAY, 3), (2, MONDAY, 3), (9, MONDAY, 1), (10, MONDAY, 2), (11, THURSDAY, 4))
"""Birthday of Martin Luther King Jr., Washington's Birthday, Labor Day, Columbus Day, Thanksgiving:
month, day of the week, and which one of the month. Memorial Day is the last Monday of May."""


def federal_holidays(year: int) -> frozenset[date]:
    """Return the legal holidays of a year, on their own dates."""
    fixed = {date(year, month, day) for month, day in FIXED}
    if year < FIRST_JUNETEENTH:
        fixed.discard(date(year, 6, 19))
    moving = {_nth(year, month, weekday, nth) for month, weekday, nth in MOVING}
    return frozenset(fixed | moving | {_last_monday_of_may(year)})


def kept_on(holiday: date) -> date:
    """Return the day on which a holiday is kept: beside a weekend, Friday or Monday."""
    shift = {SATURDAY: -1, SUNDAY: 1}.get(holiday.weekday(), 0)
    return holiday + timedelta(days=shift)


def is_federal_holiday(day: date) -> bool:
    """Whether a day is a federal holiday, or the day on which one is kept."""
    # New Year's Day of the next year may be kept on December 31.
    near = federal_holidays(day.year) | federal_holidays(day.year + 1)
    return day in near or any(kept_on(holiday) == day for holiday in near)


def is_business_day(day: date) -> bool:
    """Whether a day counts for the right to cancel: not Sunday, no federal holiday.

    A holiday that falls on a Saturday takes out that Saturday and the Friday on which it is kept:
    the rule names neither, and a notice may give a later day, never an earlier (16 CFR 429.1(c)).
    """
    return day.weekday() != SUNDAY and not is_federal_holiday(day)


def _nth(year: int, month: int, weekday: int, nth: int) -> date:
    first = date(year, month, 1)
    return first + timedelta(days=(weekday - first.weekday()) % 7 + 7 * (nth - 1))


def _last_monday_of_may(year: int) -> date:
    end = date(year, 5, 31)
    return end - timedelta(days=end.weekday())
