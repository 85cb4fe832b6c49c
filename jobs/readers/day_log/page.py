"""All that the page of a day's log is made of, and that its form is checked against."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from decimal import Decimal

from jobs.domain.checks import ZERO
from jobs.domain.scope.crews_words import in_crews_words
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.site.facts import Caution
from jobs.domain.tasks import Task
from jobs.models import DayLog, LogPhoto, PunchItem, Room, SiteFacts, User, WorkDay
from jobs.readers.current_plan.tasks import tasks_as_laid
from jobs.readers.day_log.as_planned import (
    LAYING,
    RowsOfFloor,
    floor_rows,
    people_of,
    planned_hours,
)
from jobs.readers.day_log.holds import held_tasks
from jobs.readers.days import open_holds_of
from jobs.readers.old_floors.rooms import subfloor_of
from jobs.readers.scope import scope_value

MOST_SPOTS = 30


@dataclass(frozen=True, kw_only=True, slots=True)
class LogPage:
    """A day to be logged: its people, the crew's tasks, hours as planned, rows, what is held.

    ``rows`` by the key of the task that lays them; ``held`` by the key of the task that waits.
    """

    day: WorkDay
    scope: FrozenScope
    people: tuple[User, ...]
    tasks: tuple[Task, ...]
    hours: Mapping[tuple[str, int], Decimal]
    rows: Mapping[str, RowsOfFloor]
    held: Mapping[str, Caution]
    gates: tuple[Caution, ...]
    punch: tuple[PunchItem, ...]
    spots: tuple[tuple[int, str], ...]
    lot: str
    subfloors: frozenset[str]

    def label(self, task: Task) -> str:
        """What a task is called, with its floor."""
        return f"{task.label} ({task.zone})" if task.zone else task.label

    @property
    def nothing(self) -> Decimal:
        """No hours."""
        return ZERO

    @property
    def todays(self) -> list[Task]:
        """The tasks of this day, as the day has them."""
        order = list(dict.fromkeys(entry["key"] for entry in self.day.entries))
        known = {task.key: task for task in self.tasks}
        return [known[key] for key in order if key in known]

    @property
    def others(self) -> list[Task]:
        """The crew's other tasks."""
        todays = {entry["key"] for entry in self.day.entries}
        return [task for task in self.tasks if task.key not in todays]


def log_page(day: WorkDay, user: User, named: Collection[int] = ()) -> LogPage:
    """Return what the log of a day is entered on, as ``user`` sees it.

    ``named``: people whose hours were sent, who may have left the crew since.
    """
    scope = scope_value(day.scope)
    tasks = tuple(in_crews_words(tasks_as_laid(day.job, scope), scope.quantities))
    crews = tuple(task for task in tasks if task.hours)
    people = people_of(day, user, named)
    rows = floor_rows(day, {t.zone: t.rows[1] for t in crews if t.code == LAYING and t.rows})
    return LogPage(
        day=day,
        scope=scope,
        people=tuple(people),
        tasks=crews,
        hours=planned_hours(day, people),
        rows={t.key: rows[t.zone] for t in crews if t.code == LAYING and t.zone in rows},
        held=held_tasks(day.job, crews),
        gates=tuple(open_holds_of(day.job).values()) if user.is_office else (),
        punch=tuple(PunchItem.objects.filter(job=day.job_id, done_at__isnull=True)),
        spots=_spots(day),
        lot=_lot(day),
        subfloors=_subfloors(day),
    )


def _spots(day: WorkDay) -> tuple[tuple[int, str], ...]:
    """Return the photographs from before that none from after belongs to yet, newest first."""
    photos = LogPhoto.objects.filter(log__day__job=day.job_id, side="before", afters__isnull=True)
    newest = photos.select_related("log__day").order_by("-pk")[:MOST_SPOTS]
    return tuple(
        (photo.pk, f"Before {place}, {photo.log.day.date:%b} {photo.log.day.date.day}")
        for place, photo in enumerate(newest, start=1)
    )


def _subfloors(day: WorkDay) -> frozenset[str]:
    """Return what the rooms of the day's job lie on."""
    house = SiteFacts.objects.filter(job=day.job_id).first()
    rooms = list(Room.objects.filter(job=day.job_id).only("job", "lies_on"))
    return frozenset(subfloor_of(room, house) for room in rooms or [Room()])


def _lot(day: WorkDay) -> str:
    """Return the lot that was opened last on this job."""
    last = DayLog.objects.filter(day__job=day.job_id).exclude(lot="").order_by("-pk").first()
    return last.lot if last else ""
