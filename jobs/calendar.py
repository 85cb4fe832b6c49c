"""The only door to the calendar libraries: working days, and a crew's days as a calendar.

Both are iCalendar streams (RFC 5545): a file of whole-day events to be saved, and a calendar that
is read again and again, whose events begin when the crew arrives and tell when they are canceled.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta, tzinfo
from functools import lru_cache

import holidays
from icalendar import Calendar, Event, Timezone, TimezoneDaylight, TimezoneStandard

from jobs.clock import ZoneRule, on_the_wall, zone_rules

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


@dataclass(frozen=True, kw_only=True, slots=True)
class FeedEvent:
    """One event of a calendar that is read again: ``sequence`` rises whenever anything changed."""

    uid: str
    sequence: int
    starts_at: datetime
    ends_at: datetime
    title: str
    place: str
    text: str
    canceled: bool
    changed_at: datetime


READ_AGAIN = timedelta(hours=1)
"""How soon a calendar program is asked to look again; it decides by itself."""

_A_YEAR = timedelta(days=366)


def feed_calendar(*, name: str, zone: tzinfo, events: Iterable[FeedEvent]) -> bytes:
    """Return a calendar to be read again: an iCalendar stream (RFC 5545) with times of ``zone``.

    The rules of the zone stand in it (RFC 5545, 3.6.5), from a year before its events to one after.
    """
    calendar = Calendar()
    calendar.add("prodid", "-//Rowbook//Days of a crew//EN")
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    calendar.add("name", name)
    calendar.add("x-wr-calname", name)
    calendar.add("refresh-interval", READ_AGAIN, parameters={"value": "DURATION"})
    listed = list(events)
    for event in listed:
        calendar.add_component(_event(event, zone))
    if calendar.get_missing_tzids():
        first = min(event.starts_at for event in listed) - _A_YEAR
        last = max(event.ends_at for event in listed) + _A_YEAR
        calendar.subcomponents.insert(0, _rules_of(zone, zone_rules(zone, first, last)))
    return bytes(calendar.to_ical())


def _rules_of(zone: tzinfo, rules: Iterable[ZoneRule]) -> Timezone:
    """Return a zone as calendars know it; a change begins at the local time before it."""
    known = Timezone()
    known.add("tzid", str(zone))
    for rule in rules:
        part = TimezoneDaylight() if rule.saves else TimezoneStandard()
        part.add("dtstart", rule.shown_before)
        part.add("tzoffsetfrom", rule.before)
        part.add("tzoffsetto", rule.after)
        part.add("tzname", rule.name)
        known.add_component(part)
    return known


def _event(said: FeedEvent, zone: tzinfo) -> Event:
    event = Event()
    event.add("uid", said.uid)
    event.add("sequence", said.sequence)
    event.add("dtstamp", on_the_wall(said.changed_at, UTC))
    event.add("last-modified", on_the_wall(said.changed_at, UTC))
    event.add("dtstart", on_the_wall(said.starts_at, zone))
    event.add("dtend", on_the_wall(said.ends_at, zone))
    event.add("status", "CANCELLED" if said.canceled else "CONFIRMED")
    event.add("summary", said.title)
    event.add("location", said.place)
    event.add("description", said.text)
    event.add("transp", "TRANSPARENT" if said.canceled else "OPAQUE")
    return event
