"""What bounds the days of a job: dates lost or worked, tasks held, work that was split. Stored."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from jobs.domain.checks import ZERO
from jobs.domain.days.crew import CrewDay
from jobs.domain.documents import plain_decimal
from jobs.domain.schedule.halves import halves_of
from jobs.domain.schedule.splits import SplitWork, TaskSplit
from jobs.domain.tasks import Task
from jobs.models import Crew, DaysChange, Job
from jobs.models.crew import StoredSplit


@dataclass(frozen=True, kw_only=True, slots=True)
class SplitPart:
    """How far a task goes before a date: to a row of its plan, or until so many hours are done."""

    until: date
    row: int = 0
    hours: Decimal = ZERO


@dataclass(frozen=True, kw_only=True, slots=True)
class Bounds:
    """Dates not worked for a job, dates worked though usually not, the first date of tasks.

    `parts` are tasks that are split, `short` the half hours on site of days that end early, `crews`
    the keys of crews that work a date in place of the job's own.
    """

    lost: frozenset[date] = frozenset()
    worked: frozenset[date] = frozenset()
    hold: Mapping[str, date] = field(default_factory=dict)
    parts: Mapping[str, SplitPart] = field(default_factory=dict)
    short: Mapping[date, int] = field(default_factory=dict)
    crews: Mapping[date, int] = field(default_factory=dict)

    def with_more(self, added: Bounds) -> Bounds:
        """Return these bounds with others over them."""
        return Bounds(
            lost=(self.lost - added.worked) | added.lost,
            worked=(self.worked - added.lost) | added.worked,
            hold={**self.hold, **added.hold},
            parts={**self.parts, **added.parts},
            short={**self.short, **added.short},
            crews={**self.crews, **added.crews},
        )

    def stored_split(self) -> StoredSplit:
        """Return what was split as a row keeps it."""
        return {
            "tasks": {
                key: {
                    "row": part.row,
                    "hours": plain_decimal(part.hours),
                    "until": part.until.isoformat(),
                }
                for key, part in self.parts.items()
            },
            "short": {day.isoformat(): halves for day, halves in self.short.items()},
            "crews": {day.isoformat(): crew for day, crew in self.crews.items()},
        }


def bounds_of(change: DaysChange) -> Bounds:
    """Return the bounds that a change of days put on its job."""
    read, split = date.fromisoformat, change.split or {}
    return Bounds(
        lost=frozenset(map(read, change.lost)),
        worked=frozenset(map(read, change.worked)),
        hold={key: read(day) for key, day in change.hold.items()},
        parts={
            key: SplitPart(until=read(part["until"]), row=part["row"], hours=Decimal(part["hours"]))
            for key, part in split.get("tasks", {}).items()
        },
        short={read(day): halves for day, halves in split.get("short", {}).items()},
        crews={read(day): crew for day, crew in split.get("crews", {}).items()},
    )


def standing_bounds(job: Job) -> Bounds:
    """Return the bounds of a job: those of its changes that stand, the later over the earlier."""
    bounds = Bounds()
    for change in job.days_changes.filter(undone_at=None).order_by("pk"):
        bounds = bounds.with_more(bounds_of(change))
    return bounds


def crews_on(bounds: Bounds) -> dict[date, Crew]:
    """Return the crews that work a date in place of the job's own; crews that are gone are not."""
    rows = Crew.objects.filter(pk__in=set(bounds.crews.values())).prefetch_related("members")
    by_key = {crew.pk: crew for crew in rows}
    return {day: by_key[key] for day, key in bounds.crews.items() if key in by_key}


def crew_day(crew: Crew) -> CrewDay:
    """Return a crew's day as days are planned for it."""
    people = max(1, crew.members.count())
    return CrewDay(people=people, hours_per_day=Decimal(crew.hours_per_day))


def split_work(bounds: Bounds, tasks: Mapping[str, Task], done: Mapping[str, Decimal]) -> SplitWork:
    """Return what is split of these tasks; `done` are the hours of each that are done already."""
    return SplitWork(
        tasks={
            key: TaskSplit(
                until=part.until,
                row=part.row,
                halves=max(0, halves_of(part.hours - done.get(key, ZERO))),
            )
            for key, part in bounds.parts.items()
            if key in tasks
        },
        short=dict(bounds.short),
        crews={day: crew_day(crew) for day, crew in crews_on(bounds).items()},
    )
