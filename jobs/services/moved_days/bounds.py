"""What bounds the days of a job: dates lost or worked, tasks held, work that was split. Stored."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from jobs.domain.checks import ZERO, BadValueError
from jobs.domain.days.crew import CrewDay
from jobs.domain.documents import plain_decimal
from jobs.domain.schedule.halves import halves_of
from jobs.domain.schedule.splits import SplitWork, TaskSplit
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

    def within(self, usual: Callable[[date], bool]) -> Callable[[date], bool]:
        """Return whether a day is worked within these bounds, else as usual."""
        return lambda day: day not in self.lost and (day in self.worked or usual(day))

    def not_before(
        self, keys: Collection[str], waits: Mapping[str, date] | None = None
    ) -> dict[str, date]:
        """Return the first date of these tasks: the later of a hold and of what it waits for."""
        first = dict(waits or {})
        for key, day in self.hold.items():
            if key in keys:
                first[key] = max(day, first.get(key, day))
        return first

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


def all_bounds(job: Job, added: Bounds | None = None) -> Bounds:
    """Return the bounds of a job: those of its changes that stand, and the added ones over them."""
    bounds = Bounds()
    for change in job.days_changes.filter(undone_at=None).order_by("pk"):
        bounds = bounds.with_more(bounds_of(change))
    return bounds.with_more(added) if added else bounds


def crews_on(bounds: Bounds) -> dict[date, Crew]:
    """Return the crews that work a date in place of the job's own; crews that are gone are not."""
    rows = Crew.objects.filter(pk__in=set(bounds.crews.values())).prefetch_related("members")
    by_key = {crew.pk: crew for crew in rows}
    return {day: by_key[key] for day, key in bounds.crews.items() if key in by_key}


def crew_day_of(crew: Crew, start: date) -> CrewDay:
    """Return the day of a crew from a date on: who left before is gone, who leaves later goes then.

    Raises BadValueError where nobody is left.
    """
    last_days = dict(crew.last_days.values_list("person", "date"))
    members = crew.members.values_list("pk", flat=True)
    lasts = [last_days.get(person) for person in members]
    here = [last for last in lasts if last is None or last >= start]
    if not here:
        accepted = "a crew with at least one person who is still there; put somebody into it first"
        raise BadValueError(
            field="crew", value=f"{crew}, nobody from {start} on", accepted=accepted
        )
    return CrewDay(
        people=len(here),
        hours_per_day=crew.hours_per_day,
        leaving=tuple(sorted(last for last in here if last is not None)),
    )


def split_work(bounds: Bounds, keys: Collection[str], done: Mapping[str, Decimal]) -> SplitWork:
    """Return what is split of the tasks with these keys; `done` are hours of each done already."""
    return SplitWork(
        tasks={
            key: TaskSplit(
                until=part.until,
                row=part.row,
                halves=max(0, halves_of(part.hours - done.get(key, ZERO))),
            )
            for key, part in bounds.parts.items()
            if key in keys
        },
        short=dict(bounds.short),
        crews={day: crew_day_of(crew, day) for day, crew in crews_on(bounds).items()},
    )
