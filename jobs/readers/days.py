"""A working day as it stands on pages and on paper: its tasks, rows, holds and waits."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from jobs.domain.days.homeowner import HomeownersTask, homeowners_tasks
from jobs.domain.scope.crews_words import crews_word
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.site.facts import Caution
from jobs.models import Job, WorkDay
from jobs.models.crew import StoredEntry
from jobs.readers.site import cautions_of, cleared_holds

PARTS = {
    ("furniture", "out"): "Furniture out",
    ("furniture", "back"): "Furniture back",
    ("furniture", "out and back"): "Furniture out and back",
    ("stairs", "odd"): "Odd treads",
    ("stairs", "even"): "Even treads",
}
"""What parts of a task are called."""

WITH_THE_REST = "with the rest of it"
"""Said of a part of a task whose half hours stand beside another part, of a room or of a day."""


@dataclass(frozen=True, kw_only=True, slots=True)
class TaskLine:
    """One task of a day. ``open_holds`` are titles of hold points that nobody has cleared.

    ``booked`` are half hours, None on days that don't know them; ``rooms`` and ``part`` as stored.
    """

    key: str
    task: str
    zone: str
    label: str
    hours: Decimal
    rows: tuple[int, int] | None
    helper: bool
    finishes: bool
    open_holds: tuple[str, ...]
    booked: Decimal | None = None
    rooms: tuple[str, ...] = ()
    part: str = ""

    @property
    def words(self) -> str:
        """The task and its part as a crew calls them."""
        return PARTS.get((self.task, self.part), crews_word(self.task, self.label))

    @property
    def name(self) -> str:
        """The task and its part, with its floor where it has one."""
        return f"{self.words} ({self.zone})" if self.zone else self.words

    @property
    def rooms_words(self) -> str:
        """The rooms where it is done that day; empty where that is the floor itself."""
        return "" if self.rooms == (self.zone,) else ", ".join(self.rooms)

    @property
    def rows_words(self) -> str:
        """The rows in words; empty where no row is finished."""
        return rows_words(*self.rows) if self.rows else ""

    @property
    def clock_words(self) -> str:
        """The half hours in words; the exact hours where only these are known.

        Half hours are rounded up by task, so of a short task in two rooms one room has them all.
        """
        if self.booked == 0 and self.hours:
            return WITH_THE_REST
        return half_hours_words(self.hours if self.booked is None else self.booked)

    @property
    def ends_at(self) -> str:
        """The row at which a floor is left for the night."""
        return f"row {self.rows[1]}" if self.rows else ""


def half_hours_words(hours: Decimal) -> str:
    """Return hours as they are said: 1/2 h, 3 1/2 h; what is no half hour with its decimals."""
    if hours * 2 % 1:
        return f"{hours.normalize():f} h"
    whole = f"{int(hours)}" if hours >= 1 or not hours else ""
    return " ".join(word for word in (whole, "1/2" if hours % 1 else "", "h") if word)


def laid_hours(lines: Iterable[TaskLine]) -> Decimal:
    """Return the hours of a day as they lie on it."""
    return sum((line.hours if line.booked is None else line.booked for line in lines), Decimal(0))


def rows_words(first: int, last: int) -> str:
    """Return rows in words: row 4, or rows 4 to 12."""
    return f"row {first}" if first == last else f"rows {first} to {last}"


def open_holds_of(job: Job) -> dict[str, Caution]:
    """Return the hold points of a job that nobody has cleared, by code."""
    cleared = cleared_holds(job)
    holds = (caution for caution in cautions_of(job) if caution.severity == "hold")
    return {caution.code: caution for caution in holds if caution.code not in cleared}


def holds_ahead_of(day: WorkDay, today: date) -> dict[str, Caution]:
    """Return the open hold points of a day that is still to be worked; none of one that is past."""
    return open_holds_of(day.job) if is_ahead(day, today) else {}


def is_ahead(day: WorkDay, today: date) -> bool:
    """Whether a day is still to be worked: neither past nor of a closed job."""
    return day.date >= today and day.job.closed_at is None


@dataclass(frozen=True, kw_only=True, slots=True)
class Summary:
    """One kind of task of a day in a line, floors together; whether a hold stops any of it."""

    text: str
    held: bool


def summed_up(lines: Iterable[TaskLine]) -> list[Summary]:
    """Return the tasks of a day in short, each kind once: Lay the floor (Den rows 1 to 9, Hall)."""
    kinds: dict[str, list[TaskLine]] = {}
    for line in lines:
        kinds.setdefault(line.words, []).append(line)
    return [
        Summary(text=_kind_words(words, alike), held=any(line.open_holds for line in alike))
        for words, alike in kinds.items()
    ]


def _kind_words(label: str, lines: Iterable[TaskLine]) -> str:
    places = [f"{line.zone} {line.rows_words}".strip() for line in lines]
    words = ", ".join(place for place in places if place)
    return f"{label} ({words})" if words else label


def keys_by_day(days: Iterable[WorkDay]) -> dict[int, set[str]]:
    """Return the keys of the tasks that lie on each day, by its number."""
    return {day.number: {entry["key"] for entry in day.entries} for day in days}


def homeowners_work(scope: FrozenScope, days: Iterable[WorkDay]) -> tuple[HomeownersTask, ...]:
    """Return what the homeowner does, by these days; where there are none, by those agreed on."""
    laid = keys_by_day(days)
    if not laid and scope.schedule is not None:
        agreed = enumerate(scope.schedule.days, start=1)
        laid = {number: {part.task for part in day.parts} for number, day in agreed}
    return homeowners_tasks(scope.tasks, scope.left, laid)


def task_lines(day: WorkDay, open_holds: Mapping[str, Caution]) -> list[TaskLine]:
    """Return the tasks of a day in the order in which they begin."""
    return [_line(entry, open_holds) for entry in day.entries]


def _line(entry: StoredEntry, open_holds: Mapping[str, Caution]) -> TaskLine:
    rows = entry["rows"]
    code, zone = str(entry["task"]), str(entry["zone"])
    blocked = [caution for caution in open_holds.values() if code in caution.blocks]
    return TaskLine(
        key=str(entry["key"]),
        task=code,
        zone=zone,
        label=str(entry["label"]),
        hours=Decimal(entry["hours"]),
        rows=(int(rows[0]), int(rows[1])) if rows else None,
        helper=bool(entry["helper"]),
        finishes=bool(entry["finishes"]),
        open_holds=tuple(caution.title for caution in blocked),
        booked=Decimal(entry["booked"]) if "booked" in entry else None,
        rooms=tuple(entry.get("rooms", ())),
        part=entry.get("part", ""),
    )
