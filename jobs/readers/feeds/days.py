"""The days of a crew or person as a calendar is to show them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal

from django.db.models import Count, Q, QuerySet

from jobs.clock import lasting, time_zone_of
from jobs.domain.days.clock_hours import clock_hours
from jobs.http import whole_address
from jobs.models import CalendarFeed, Job, PenciledCrew, WorkDay
from jobs.models.board.penciled import PenciledDay
from jobs.readers.board.laid import man_hours_of
from jobs.readers.days import summed_up, task_lines
from jobs.readers.feeds.arrival import arrival_of
from jobs.readers.penciled.rows import NOT_AGREED, crew_from, out_of_date_words, penciled_in

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
    tentative: bool = False


def days_published_by(feed: CalendarFeed, *, since: date) -> dict[DayKey, DayContent]:
    """Return what a calendar link is to say of every day from ``since`` on."""
    days = _days_of(feed).filter(date__gte=since).select_related("job", "crew")
    here = Count("crew__members", filter=Q(crew__members__is_active=True), distinct=True)
    days = days.annotate(people=here).order_by("date", "pk")
    arrival, zone = arrival_of(feed.company), time_zone_of(feed.company)

    def arrives(on: date) -> datetime:
        return datetime.combine(on, arrival, zone)

    planned = {
        (day.job_id, day.number): _content(day, people=day.people, starts_at=arrives(day.date))
        for day in days
    }
    return _penciled_days(feed, since, arrives) | planned


def _penciled_days(
    feed: CalendarFeed, since: date, arrives: Callable[[date], datetime]
) -> dict[DayKey, DayContent]:
    """Return the days of jobs for which the crew, or a crew of the person, is penciled in."""
    mine = Q(crew=feed.crew_id) if feed.crew_id is not None else Q(crew__members=feed.person)
    return {
        (row.job_id, number): _penciled_content(row, day, number, arrives(on))
        for row in penciled_in(feed.company).filter(mine)
        for number, day in enumerate(row.days, start=1)
        if (on := date.fromisoformat(day["date"])) >= since
    }


def _penciled_content(
    row: PenciledCrew, day: PenciledDay, number: int, starts_at: datetime
) -> DayContent:
    """Return one day as it is penciled in, and in what the priced days are out of date."""
    people = crew_from(row.crew, row.start)[0]
    lasts = timedelta(hours=float(clock_hours(Decimal(day["hours"]), people)))
    otherwise = [f"Priced for other days. {text}" for text in out_of_date_words(row)]
    return DayContent(
        starts_at=starts_at,
        ends_at=lasting(starts_at, lasts),
        title=f"Penciled in: job {row.job.number}, {row.job.title}, day {number}",
        place=_place_of(row.job),
        text="\n".join([f"{row.crew}", NOT_AGREED, *otherwise, *day["tasks"]]),
        tentative=True,
    )


def _place_of(job: Job) -> str:
    return ", ".join(line.strip() for line in job.address.splitlines() if line.strip())


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
        place=_place_of(day.job),
        text="\n".join([f"{day.crew}", *_out_of_date(day), *tasks, page]),
    )


def _out_of_date(day: WorkDay) -> list[str]:
    """Return that a day follows an earlier scope than the one that is agreed on now."""
    if day.scope_id == day.job.agreed_scope_id:
        return []
    return ["Out of date: other work is agreed on since; the office plans the days again."]


def calendar_name(feed: CalendarFeed) -> str:
    """Return what a calendar program calls this calendar."""
    return f"{feed.whose}, {feed.company.name}"
