"""Where the crews are: today's jobs with the row each stops at, and the week as a strip."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from jobs.models import Company, WorkDay
from jobs.readers.crews_day.day import ROAD, goal_of
from jobs.readers.days import TaskLine, task_lines
from jobs.readers.path import Finding

WEEK = 7


@dataclass(frozen=True, kw_only=True, slots=True)
class CrewAtWork:
    """A crew's work of today: its day and rooms, where it stops, what stands against it."""

    day: WorkDay
    rooms: str
    goal: str
    stopped_by: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class StripCell:
    """What a crew does on one date of the strip: nothing, one job or more."""

    date: date
    is_today: bool
    days: tuple[WorkDay, ...]

    @property
    def kind(self) -> str:
        """How the strip draws it: free, today, both or neither."""
        return " ".join(
            name for name, is_so in (("free", not self.days), ("now", self.is_today)) if is_so
        )


@dataclass(frozen=True, kw_only=True, slots=True)
class CrewStrip:
    """A crew's week, Monday to Sunday."""

    crew: str
    cells: tuple[StripCell, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class CrewsWeek:
    """Today, and the week that it lies in, of every crew that works in it."""

    today: date
    dates: tuple[date, ...]
    at_work: tuple[CrewAtWork, ...]
    crews: tuple[CrewStrip, ...]


def crews_week(company: Company, today: date) -> CrewsWeek:
    """Return where a company's crews are in the week of this date, in one query."""
    monday = today - timedelta(days=today.weekday())
    dates = tuple(monday + timedelta(days=ahead) for ahead in range(WEEK))
    days = list(
        WorkDay.objects.filter(
            job__company=company, job__archived_at=None, date__range=(dates[0], dates[-1])
        )
        .select_related("crew", "job__client")
        .order_by("crew__name", "crew_id", "date", "number", "pk")
    )
    return CrewsWeek(
        today=today,
        dates=dates,
        at_work=tuple(_at_work(day) for day in days if day.date == today),
        crews=tuple(_strips(days, dates, today)),
    )


def with_stops(week: CrewsWeek, steps: Mapping[int, Mapping[str, Finding]]) -> CrewsWeek:
    """Return the week with what a floor of today's jobs is not fit for; steps by job and name."""
    return replace(week, at_work=tuple(_with_stop(one, steps) for one in week.at_work))


def _with_stop(one: CrewAtWork, steps: Mapping[int, Mapping[str, Finding]]) -> CrewAtWork:
    floor = steps.get(one.day.job_id, {}).get("Floor")
    return replace(one, stopped_by=floor.stopped_by if floor else "")


def _at_work(day: WorkDay) -> CrewAtWork:
    lines = [line for line in task_lines(day, {}) if line.task != ROAD]
    return CrewAtWork(day=day, rooms=", ".join(_places(lines)), goal=goal_of(lines))


def _places(lines: Iterable[TaskLine]) -> list[str]:
    """Return the rooms of these tasks, the floor where a task names no room; each once."""
    places = (place for line in lines for place in line.rooms or (line.zone,))
    return list(dict.fromkeys(place for place in places if place))


def _strips(days: Sequence[WorkDay], dates: Sequence[date], today: date) -> list[CrewStrip]:
    """Return a strip for each crew, in the order of its first day in ``days``."""
    names: dict[int, str] = {}
    laid: dict[tuple[int, date], list[WorkDay]] = defaultdict(list)
    for day in days:
        names[day.crew_id] = str(day.crew)
        laid[day.crew_id, day.date].append(day)
    return [
        CrewStrip(
            crew=name,
            cells=tuple(
                StripCell(date=on, is_today=on == today, days=tuple(laid.get((crew, on), ())))
                for on in dates
            ),
        )
        for crew, name in names.items()
    ]
