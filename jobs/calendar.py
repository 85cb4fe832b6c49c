"""The only door to the calendar libraries: working days, and a crew's days as a calendar file.

The file is an iCalendar stream (RFC 5545) of whole-day events.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import lru_cache

import holidays
from icalendar import Calendar, Event

SATURDAY = 5
SUNDAY = 6


@dataclass(frozen=True, kw_only=True, slots=True)
class CalendarDay:
    """One working day as a calendar shows it; ``key`` stays the same when the day changes."""

    key: str
    date: date
    title: str
    place: str
    text: str
    changed_at: datetime


def holiday_name(day: date) -> str:
    """Return the name of the US federal holiday on this day, or nothing (5 U.S.C. 6103)."""
    return _federal(day.year).get(day, "")


@lru_cache(maxsize=16)
def _federal(year: int) -> dict[date, str]:
    return dict(holidays.country_holidays("US", years=year).items())


def working_days(
    *, saturdays: bool = False, holidays_too: bool = False, taken: Collection[date] = ()
) -> Callable[[date], bool]:
    """Return whether a day is worked: Mondays to Fridays, without federal holidays and `taken`.

    ``saturdays`` adds the Saturdays, ``holidays_too`` the holidays.
    """
    last = SATURDAY if saturdays else SATURDAY - 1

    def works(day: date) -> bool:
        if day.weekday() > last or day in taken:
            return False
        return holidays_too or not holiday_name(day)

    return works


def why_not_worked(day: date) -> str:
    """Return in words why a day is commonly not worked, or nothing."""
    named = holiday_name(day)
    if named:
        return named
    return {SATURDAY: "Saturday", SUNDAY: "Sunday"}.get(day.weekday(), "")


def crew_calendar(*, name: str, days: Iterable[CalendarDay]) -> bytes:
    """Return these days as an iCalendar stream (RFC 5545), one whole-day event each."""
    calendar = Calendar()
    calendar.add("prodid", "-//Rowbook//Days of a crew//EN")
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", name)
    for day in days:
        event = Event()
        event.add("uid", f"{day.key}@rowbook")
        event.add("dtstamp", day.changed_at)
        event.add("last-modified", day.changed_at)
        event.add("dtstart", day.date)
        event.add("dtend", day.date + timedelta(days=1))
        event.add("summary", day.title)
        event.add("location", day.place)
        event.add("description", day.text)
        event.add("transp", "OPAQUE")
        calendar.add_component(event)
    return bytes(calendar.to_ical())
