"""The rules of the zone that stand in a calendar, read back by the library that reads calendars."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, tzinfo
from typing import Any

import pytest
from icalendar import Calendar

from jobs.calendar import FeedEvent, feed_calendar
from jobs.clock import on_the_wall, time_zone_of
from jobs.models import Company

MARCH = datetime(2027, 3, 12, 13, 30, tzinfo=UTC)


def zone_called(name: str) -> tzinfo:
    return time_zone_of(Company(time_zone=name))


def rules(zone: str) -> list[Any]:
    """The zones that a calendar of one event carries."""
    event = FeedEvent(
        uid="one",
        sequence=0,
        starts_at=MARCH,
        ends_at=MARCH + timedelta(hours=8),
        title="Job 1",
        place="",
        text="",
        canceled=False,
        changed_at=MARCH,
    )
    stream = feed_calendar(name="Days", zone=zone_called(zone), events=[event])
    return list(Calendar.from_ical(stream.decode()).walk("VTIMEZONE"))


def test_clocks_go_forward_at_two_in_the_morning_by_the_clock_before() -> None:
    # 15 U.S.C. 260a: the second Sunday of March, 2 o'clock ante meridian.
    [zone] = rules("America/New_York")
    starts = {part["DTSTART"].to_ical(): part for part in zone.subcomponents}
    forward = starts[b"20270314T020000"]
    assert forward.name == "DAYLIGHT"
    assert forward["TZOFFSETFROM"].td == timedelta(hours=-5)
    assert forward["TZOFFSETTO"].td == timedelta(hours=-4)
    assert starts[b"20271107T020000"].name == "STANDARD"


@pytest.mark.parametrize("name", ["America/New_York", "America/Phoenix", "Pacific/Auckland"])
def test_read_back_it_tells_the_same_time_as_the_zone(name: str) -> None:
    [zone] = rules(name)
    read, known = zone.to_tz(), zone_called(name)
    for days in range(-300, 300, 7):
        moment = MARCH + timedelta(days=days)
        both = [on_the_wall(moment, each).replace(tzinfo=None) for each in (read, known)]
        assert both[0] == both[1]


def test_a_company_on_universal_time_needs_no_rules() -> None:
    assert rules("UTC") == []
