"""The crew's tasks of an agreed scope, their rows and the hours of each by the plan laid now."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from jobs.domain.scope.by_room.places import FloorFacts, row_hours
from jobs.domain.scope.by_room.plan_rows import row_figures
from jobs.domain.scope.rates_used import as_rate
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.tasks import RoomShare, Task
from jobs.models import Job
from jobs.readers.current_plan.floors import CurrentFloor
from jobs.readers.current_plan.sheets import floors_by_name


def tasks_as_laid(job: Job, scope: FrozenScope) -> tuple[Task, ...]:
    """Return the crew's tasks; of a floor planned again since, the rows are those of its plan now.

    What was agreed for laying it is shared anew among its rows, by what each takes: another plan
    of what is left is no other price.
    """
    again = {name: one for name, one in floors_by_name(job).items() if one.mark.replanned}
    if not again:
        return scope.crews_tasks
    return tuple(_as_laid(task, again, scope) for task in scope.crews_tasks)


def _as_laid(task: Task, again: Mapping[str, CurrentFloor], scope: FrozenScope) -> Task:
    if task.code != "lay" or not task.row_count or task.zone not in again:
        return task
    form = again[task.zone].stored().plan_form
    figures = row_figures(form["pieces"], form["unit"])
    rates = [as_rate(rate) for rate in scope.rates]
    hours = row_hours(task.hours, len(figures), FloorFacts(rows=figures), rates)
    last = task.rows[1] if task.rows else 0
    rooms = tuple(_room(share, last, len(figures)) for share in task.rooms)
    return replace(task, rows=(1, len(figures)), row_hours=hours, rooms=rooms)


def _room(share: RoomShare, before: int, now: int) -> RoomShare:
    """Return a room with its rows; where the floor ended in it, it still does."""
    if share.rows is None:
        return share
    first, last = share.rows
    return replace(share, rows=(min(first, now), now if last == before else min(last, now)))
