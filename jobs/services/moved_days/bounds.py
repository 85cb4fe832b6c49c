"""What bounds the days of a job: dates lost, dates worked though usually not, tasks held."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date

from jobs.domain.days.crew import CrewDay
from jobs.models import Crew, Job


@dataclass(frozen=True, kw_only=True, slots=True)
class Bounds:
    """Dates not worked for a job, dates worked though usually not, the first date of tasks."""

    lost: frozenset[date] = frozenset()
    worked: frozenset[date] = frozenset()
    hold: Mapping[str, date]

    def within(self, usual: Callable[[date], bool]) -> Callable[[date], bool]:
        """Return whether a day is worked within these bounds, else as usual."""
        return lambda day: day not in self.lost and (day in self.worked or usual(day))

    def not_before(
        self, keys: set[str], waits: Mapping[str, date] | None = None
    ) -> dict[str, date]:
        """Return the first date of these tasks: the later of a hold and of what it waits for."""
        first = dict(waits or {})
        for key, day in self.hold.items():
            if key in keys:
                first[key] = max(day, first.get(key, day))
        return first


def all_bounds(job: Job, added: Bounds | None = None) -> Bounds:
    """Return the bounds of a job: those of its changes that stand, and the added ones over them."""
    added = added or Bounds(hold={})
    lost, worked, hold = set[date](), set[date](), dict[str, date]()
    for change in job.days_changes.filter(undone_at=None).order_by("pk"):
        lost |= {date.fromisoformat(day) for day in change.lost}
        worked |= {date.fromisoformat(day) for day in change.worked}
        hold |= {key: date.fromisoformat(day) for key, day in change.hold.items()}
    return Bounds(
        lost=frozenset(lost - added.worked) | added.lost,
        worked=frozenset(worked - added.lost) | added.worked,
        hold=hold | dict(added.hold),
    )


def crew_day_of(crew: Crew, start: date) -> CrewDay:
    """Return the day of a crew from a date on: who left before is gone, who leaves later goes then.

    Raises DaysError where nobody is left.
    """
    last_days = dict(crew.last_days.values_list("person", "date"))
    members = crew.members.values_list("pk", flat=True)
    lasts = [last_days.get(person) for person in members]
    here = [last for last in lasts if last is None or last >= start]
    return CrewDay(
        people=len(here),
        hours_per_day=crew.hours_per_day,
        leaving=tuple(sorted(last for last in here if last is not None)),
    )
