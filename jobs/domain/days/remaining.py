"""What is left of a scope once some of its days were worked. Pure.

A day with log entries is a fact and stays. A task counts as done there if somebody logged it; rows
count as they were logged. What nobody logged is planned again.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal
from math import ceil

from jobs.domain.checks import ZERO
from jobs.domain.tasks import Task

CLOSES = 16
"""The hour at which a wait that began on a worked day is taken to begin, to be on the safe side."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Worked:
    """One task on one worked day: hours as planned, whether it was logged, rows by plan and log."""

    key: str
    date: date
    hours: Decimal
    logged: bool
    planned_rows: tuple[int, int] | None = None
    logged_rows: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Left:
    """Tasks still to be done, and the first day of those that must wait."""

    tasks: tuple[Task, ...]
    not_before: Mapping[str, date]


def what_is_left(tasks: Sequence[Task], worked: Sequence[Worked]) -> Left:
    """Return what is left of these tasks; laying goes on after the last row that is down."""
    done: dict[str, Decimal] = {}
    ended: dict[str, date] = {}
    for part in worked:
        if part.logged:
            done[part.key] = done.get(part.key, ZERO) + part.hours
            ended[part.key] = max(part.date, ended.get(part.key, part.date))
    down = {task.key: _rows_down(task, worked) for task in tasks if task.row_count}
    left = [
        rest
        for task in tasks
        if (rest := _rest(task, done.get(task.key, ZERO), down.get(task.key, 0)))
    ]
    begun = _waits_begun(left, ended)
    ended |= begun
    left = [task for task in left if task.key not in begun]
    open_keys = {task.key for task in left}
    return Left(
        tasks=tuple(
            replace(task, after=tuple(key for key in task.after if key in open_keys))
            for task in left
        ),
        not_before=_not_before(tasks, open_keys, ended),
    )


def _waits_begun(left: Sequence[Task], ended: Mapping[str, date]) -> dict[str, date]:
    """Return waits whose clock began on a worked day: cartons carried in don't start anew."""
    open_keys = {task.key for task in left}
    return {
        task.key: max(ended[key] for key in task.after)
        for task in left
        if task.wait_hours_after and not task.hours and task.after
        if all(key in ended and key not in open_keys for key in task.after)
    }


def _rest(task: Task, done: Decimal, rows_down: int) -> Task | None:
    """Return what is left of a task, None where nothing is; a task without hours is a wait."""
    if task.row_count:
        return _rest_of_rows(task, rows_down)
    if not task.hours:
        return task
    hours = task.hours - done
    if hours <= 0:
        return None
    return replace(task, hours=hours, passes=_passes_left(task, hours))


def _passes_left(task: Task, hours: Decimal) -> int:
    """Return the runs to the dump that are still to be driven; a begun one counts whole."""
    if task.code != "dump_run":
        return task.passes
    return max(1, ceil(task.passes * hours / task.hours))


def _rest_of_rows(task: Task, rows_down: int) -> Task | None:
    if task.rows is None or rows_down >= task.row_count:
        return None
    left = sum(task.hours_by_row[rows_down:], ZERO)
    if not left:
        return None
    return replace(task, hours=left, rows=(1 + rows_down, task.rows[1]))


def unbroken(spans: Iterable[tuple[int, int]]) -> int:
    """Return the last row that spans (first row, last row) reach from row 1 without a gap."""
    down = 0
    for first, last in sorted(spans):
        if first > down + 1:
            break
        down = max(down, last)
    return down


def _rows_down(task: Task, worked: Iterable[Worked]) -> int:
    """Return the last row of the unbroken run from row 1 that is down."""
    spans: list[tuple[int, int]] = []
    for part in worked:
        if part.key == task.key:
            assumed = (part.planned_rows,) if part.logged and part.planned_rows else ()
            spans += part.logged_rows or assumed
    return min(unbroken(spans), task.row_count)


def _not_before(
    tasks: Sequence[Task], open_keys: set[str], ended: Mapping[str, date]
) -> dict[str, date]:
    """Return the first day of tasks that wait for a task that was done on a worked day."""
    waits = {
        task.key: ended[task.key] + timedelta(days=ceil((CLOSES + task.wait_hours_after) / 24))
        for task in tasks
        if task.wait_hours_after and task.key in ended and task.key not in open_keys
    }
    return {
        task.key: max(waits[key] for key in task.after if key in waits)
        for task in tasks
        if task.key in open_keys and any(key in waits for key in task.after)
    }
