"""The log as it is told: entries in words, rows that are down, hours by task beside the plan."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.domain.checks import ZERO
from jobs.domain.scope.crews_words import crews_word, in_crews_words
from jobs.domain.tasks import OTHER, TASKS, task_key
from jobs.models import HoursStanding, LogEntry, Scope, User
from jobs.readers.days import rows_words
from jobs.readers.scope import scope_value


@dataclass(frozen=True, kw_only=True, slots=True)
class EntryLine:
    """A log entry in words; ``removable`` by the person who looks at it."""

    entry: LogEntry
    what: str
    rows: str
    spoiled: str
    removable: bool
    standing: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class TaskHours:
    """Hours of one task: in the scope, and logged so far."""

    name: str
    planned: Decimal
    logged: Decimal

    @property
    def over(self) -> bool:
        """Whether more was logged than the scope has."""
        return self.logged > self.planned


def entry_lines(entries: Iterable[LogEntry], reader: User) -> list[EntryLine]:
    """Return log entries in words, who did the same task beneath each other.

    Own ones may be taken back, the office may take back all.
    """
    listed = list(entries)
    places = {key: place for place, key in reversed([*enumerate(map(_work_of, listed))])}
    return [
        EntryLine(
            entry=entry,
            what=task_name(entry),
            rows=_rows(entry),
            spoiled=_spoiled(entry),
            removable=may_take_back(entry, reader),
            standing=(
                "" if entry.standing == HoursStanding.COUNTS else entry.get_standing_display()
            ),
        )
        for entry in sorted(listed, key=lambda entry: places[_work_of(entry)])
    ]


def _work_of(entry: LogEntry) -> tuple[str, str]:
    return entry.task, entry.zone


def may_take_back(entry: LogEntry, reader: User) -> bool:
    """Whether this person may take an entry back: whose hours it is, or the office."""
    return reader.is_office or entry.who_id == reader.pk


def task_name(entry: LogEntry) -> str:
    """Return what an entry is about, in words."""
    if entry.task == OTHER and not entry.hours:
        return "Note" if entry.note or entry.photo_id else "Without hours"
    return label_of(entry.task, entry.zone)


def label_of(task: str, zone: str) -> str:
    """Return what a task in a zone is called, in words."""
    if task == OTHER:
        return "Other work"
    label = crews_word(task, TASKS[task].label) if task in TASKS else task
    return f"{label} ({zone})" if zone else label


def rows_laid(entries: Iterable[LogEntry]) -> list[tuple[str, str]]:
    """Return pairs of a floor's name and the rows of it that were logged, runs joined."""
    spans: dict[str, list[tuple[int, int]]] = defaultdict(list)
    for entry in entries:
        if entry.row_from is not None and entry.row_to is not None:
            spans[entry.zone].append((entry.row_from, entry.row_to))
    return [
        (zone, ", ".join(rows_words(*run) for run in _joined(runs))) for zone, runs in spans.items()
    ]


def _joined(spans: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
    runs: list[tuple[int, int]] = []
    for first, last in sorted(spans):
        if runs and first <= runs[-1][1] + 1:
            runs[-1] = (runs[-1][0], max(last, runs[-1][1]))
        else:
            runs.append((first, last))
    return runs


def hours_by_task(scope: Scope, entries: Iterable[LogEntry]) -> list[TaskHours]:
    """Return the hours of the crew's tasks of a scope beside those of these entries of its log."""
    logged: dict[str, Decimal] = defaultdict(Decimal)
    names: dict[str, str] = {}
    for entry in entries:
        key = task_key(entry.task, entry.zone)
        logged[key] += entry.hours
        names.setdefault(key, task_name(entry))
    rows = []
    value = scope_value(scope)
    for task in in_crews_words(value.crews_tasks, value.quantities):
        name = f"{task.label} ({task.zone})" if task.zone else task.label
        rows.append(TaskHours(name=name, planned=task.hours, logged=logged.pop(task.key, ZERO)))
    rows += [
        TaskHours(name=names[key], planned=ZERO, logged=hours) for key, hours in logged.items()
    ]
    return [row for row in rows if row.planned or row.logged]


def _rows(entry: LogEntry) -> str:
    if entry.row_from is None or entry.row_to is None:
        return ""
    return rows_words(entry.row_from, entry.row_to)


def _spoiled(entry: LogEntry) -> str:
    if not entry.planks_spoiled:
        return ""
    plural = "" if entry.planks_spoiled == 1 else "s"
    reason = entry.get_spoil_reason_display().lower()
    return f"{entry.planks_spoiled} plank{plural}, {reason}"
