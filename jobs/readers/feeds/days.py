"""The days of a crew or person as a calendar is to show them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from django.db.models import Count, Q, QuerySet

from jobs.clock import lasting, time_zone_of
from jobs.domain.days.clock_hours import clock_hours
from jobs.http import whole_address
from jobs.models import CalendarFeed, WorkDay
from jobs.readers.board.laid import man_hours_of
from jobs.readers.days import summed_up, task_lines
from jobs.readers.feeds.arrival import arrival_of

DayKey = tuple[int, int]
"""The key of a job, and the number of a day of it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class DayContent:
    """What a calendar says of one day. Nothing of access, phones or prices: links are passed on."""

    starts_at: datetime
    ends_at: datetime
    title: str
    place: str
    text: str


def days_published_by(feed: CalendarFeed, *, since: date) -> dict[DayKey, DayContent]:
    """Return what a calendar link is to say of every day from ``since`` on."""
    days = _days_of(feed).filter(date__gte=since).select_related("job", "crew")
    here = Count("crew__members", filter=Q(crew__members__is_active=True), distinct=True)
    days = days.annotate(people=here).order_by("date", "pk")
    company = feed.company
    arrival = arrival_of(company)
    zone = time_zone_of(company)
    return {
        (day.job_id, day.number): _content(
            day, people=day.people, starts_at=datetime.combine(day.date, arrival, zone)
        )
        for day in days
    }


def _days_of(feed: CalendarFeed) -> QuerySet[WorkDay]:
    """Return the days of the crew, or of every crew that the person is in."""
    days = WorkDay.objects.filter(job__company=feed.company)
    if feed.crew_id is not None:
        return days.filter(crew=feed.crew_id)
    crews = feed.company.crews.filter(members=feed.person)
    return days.filter(crew__in=crews)


def _content(day: WorkDay, *, people: int, starts_at: datetime) -> DayContent:
    tasks = [one.text for one in summed_up(task_lines(day, {}))]
    page = whole_address("day", day.pk)
    lasts = timedelta(hours=float(clock_hours(man_hours_of(day), people)))
    return DayContent(
        starts_at=starts_at,
        ends_at=lasting(starts_at, lasts),
        title=f"Job {day.job.number}: {day.job.title}, day {day.number}",
        place=", ".join(line.strip() for line in day.job.address.splitlines() if line.strip()),
        text="\n".join([f"{day.crew}", *tasks, page]),
    )


def calendar_name(feed: CalendarFeed) -> str:
    """Return what a calendar program calls this calendar."""
    return f"{feed.whose}, {feed.company.name}"
