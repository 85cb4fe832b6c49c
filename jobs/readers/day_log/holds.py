"""Which tasks of a day stand behind an open hold, and which the owner let go on by name."""

from __future__ import annotations

from collections.abc import Iterable

from jobs.domain.day_log.behind import holds_before
from jobs.domain.site.facts import Caution
from jobs.domain.tasks import Task
from jobs.models import Job
from jobs.readers.days import open_holds_of


def let_go_of(job: Job) -> frozenset[tuple[str, str]]:
    """Return pairs of hold and task that the owner let go on."""
    return frozenset(job.hold_overrides.values_list("code", "task"))


def held_tasks(job: Job, tasks: Iterable[Task]) -> dict[str, Caution]:
    """Return by its key the first open hold that each of these tasks stands behind."""
    holds, let_go = tuple(open_holds_of(job).values()), let_go_of(job)
    before = {task.key: holds_before(task.code, task.key, holds, let_go) for task in tasks}
    return {key: held[0] for key, held in before.items() if held}
