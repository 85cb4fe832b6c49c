"""Working days, and a crew's days as an iCalendar file (RFC 5545)."""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from icalendar import Calendar

from jobs.calendar import CalendarDay, crew_calendar, holiday_name, working_days
from tests.jobs.agreed import a_crew, agreed_job, laid_out


def events(stream: bytes) -> list[Any]:
    """The events of an iCalendar stream."""
    return list(Calendar.from_ical(stream.decode()).walk("VEVENT"))


@pytest.mark.parametrize(
    ("day", "name"),
    [
        # 5 U.S.C. 6103(a): the fourth Thursday of November, the third Monday of January.
        (date(2026, 11, 26), "Thanksgiving"),
        (date(2027, 1, 18), "Martin Luther King"),
        # 6103(b): a holiday on a Saturday is kept on the Friday before.
        (date(2026, 7, 3), "Independence Day"),
    ],
)
def test_federal_holidays_are_known(day: date, name: str) -> None:
    assert name in holiday_name(day)


def test_a_common_day_has_no_holiday() -> None:
    assert holiday_name(date(2027, 3, 1)) == ""


def test_saturdays_and_holidays_are_worked_only_when_asked() -> None:
    saturday, thanksgiving = date(2027, 3, 6), date(2026, 11, 26)
    common, eager = working_days(), working_days(saturdays=True, holidays_too=True)
    assert (common(saturday), common(thanksgiving)) == (False, False)
    assert (eager(saturday), eager(thanksgiving)) == (True, True)


def test_a_sunday_is_never_worked() -> None:
    assert not working_days(saturdays=True, holidays_too=True)(date(2027, 3, 7))


def test_a_day_taken_by_another_job_is_not_worked() -> None:
    assert not working_days(taken={date(2027, 3, 1)})(date(2027, 3, 1))


def test_a_day_becomes_a_whole_day_event() -> None:
    day = CalendarDay(
        key="job-1-day-7",
        date=date(2027, 3, 1),
        title="Job 12: Den; two rooms, day 1",
        place="4 Cooper Lane, Harrow Glen",
        text="Lay the floor\nSet transitions",
        changed_at=datetime(2027, 2, 1, 12, tzinfo=UTC),
    )
    event = events(crew_calendar(name="First crew", days=[day]))[0]
    assert event["SUMMARY"] == day.title
    assert event["UID"] == "job-1-day-7@rowbook"
    assert (event["DTSTART"].dt, event["DTEND"].dt) == (date(2027, 3, 1), date(2027, 3, 2))


def test_lines_are_folded_and_end_as_the_standard_asks() -> None:
    # RFC 5545, 3.1: lines end in CR LF and are no longer than 75 octets.
    day = CalendarDay(
        key="k",
        date=date(2027, 3, 1),
        title="x" * 200,
        place="",
        text="",
        changed_at=datetime(2027, 2, 1, tzinfo=UTC),
    )
    lines = crew_calendar(name="First crew", days=[day]).split(b"\r\n")
    assert max(map(len, lines)) <= 75


@pytest.mark.django_db
def test_a_crew_member_keeps_the_days_of_the_crew() -> None:
    job = agreed_job()
    crew = a_crew(job.company)
    laid_out(job, crew)
    visitor = Visitor()
    visitor.force_login(crew.members.get())
    answer = visitor.get(reverse("crew-calendar", args=[crew.pk]))
    starts = [event["DTSTART"].dt for event in events(answer.content)]
    assert [start.day for start in starts] == [1, 2, 3, 4]
