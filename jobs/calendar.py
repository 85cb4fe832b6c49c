"""The only door to the calendar libraries: working days, and a crew's days as a calendar.

Both are iCalendar streams (RFC 5545): a file of whole-day events to be saved, and a calendar that
is read again and again, whose events begin when the crew arrives and tell when they are canceled.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta, tzinfo
from functools import lru_cache

import holidays
from icalendar import Calendar, Event, Timezone, TimezoneDaylight, TimezoneStandard

from jobs.clock import ZoneRule, on_the_wall, zone_rules
from jobs.domain.checks import BadValueError
from jobs.models import Company

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


@dataclass(frozen=True, kw_only=True, slots=True)
class HolidayPlace:
    """Where holidays are kept: a country by its two letters, and a state of it where one is said.

    Without a state only the holidays of the whole country are kept; in the US the federal ones.
    """

    country: str = "US"
    state: str = ""

    def __post_init__(self) -> None:
        """Refuse a country without a calendar, and a state that it hasn't."""
        states = _countries().get(self.country)
        if states is None:
            accepted = "a country by its two letters: " + ", ".join(sorted(_countries()))
            raise BadValueError(field="country", value=self.country or "none", accepted=accepted)
        if self.state and self.state not in states:
            known = ", ".join(states) or "no states; leave it empty"
            accepted = f"of {self.country} one of: {known}"
            raise BadValueError(field="state", value=self.state, accepted=accepted)


@lru_cache(maxsize=1)
def _countries() -> Mapping[str, tuple[str, ...]]:
    """Return the states of every country that has a calendar."""
    return {
        country: tuple(states)
        for country, states in holidays.list_supported_countries().items()
        if len(country) == 2
    }


def place_of(company: Company) -> HolidayPlace:
    """Return where the holidays of a company are kept."""
    return HolidayPlace(country=company.country, state=company.state)


def holiday_name(day: date, place: HolidayPlace | None = None) -> str:
    """Return the name of the holiday on this day there, or nothing; US federal without a place.

    The federal ones: 5 U.S.C. 6103.
    """
    place = place or HolidayPlace()
    return _holidays(place.country, place.state, day.year).get(day, "")


@lru_cache(maxsize=64)
def _holidays(country: str, state: str, year: int) -> dict[date, str]:
    kept = holidays.country_holidays(country, subdiv=state or None, years=year, language="en_US")
    return dict(kept.items())


def working_days(
    *,
    saturdays: bool = False,
    holidays_too: bool = False,
    taken: Collection[date] = (),
    place: HolidayPlace | None = None,
) -> Callable[[date], bool]:
    """Return whether a day is worked: Mondays to Fridays, without holidays there and `taken`.

    ``saturdays`` adds the Saturdays, ``holidays_too`` the holidays.
    """
    last = SATURDAY if saturdays else SATURDAY - 1

    def works(day: date) -> bool:
        if day.weekday() > last or day in taken:
            return False
        return holidays_too or not holiday_name(day, place)

    return works


def why_not_worked(day: date, place: HolidayPlace | None = None) -> str:
    """Return in words why a day is commonly not worked there, or nothing."""
    named = holiday_name(day, place)
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
    tentative: bool = False

    @property
    def status(self) -> str:
        """Its status in the words of RFC 5545, 3.8.1.11."""
        if self.canceled:
            return "CANCELLED"
        return "TENTATIVE" if self.tentative else "CONFIRMED"


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
    event.add("status", said.status)
    event.add("summary", said.title)
    event.add("location", said.place)
    event.add("description", said.text)
    event.add("transp", "TRANSPARENT" if said.canceled else "OPAQUE")
    return event
