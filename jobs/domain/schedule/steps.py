"""Tasks of a scope divided into steps: by room, furniture out and back, treads in two passes."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal

from jobs.domain.checks import ONE, ZERO
from jobs.domain.days.critical_path import in_working_order
from jobs.domain.schedule.bench.loads import loads_of
from jobs.domain.schedule.halves import quarters_of, shared_halves
from jobs.domain.schedule.needs import with_needs
from jobs.domain.schedule.pieces import TaskPiece, pieces_of_task
from jobs.domain.schedule.priority import by_urgency
from jobs.domain.schedule.step import Step, at_one_go, haul_stops, row_stops
from jobs.domain.schedule.trade import (
    ALONG,
    AT_ONE_GO,
    GLUE_SETS_QUARTERS,
    ODD,
    most_at,
    people_for,
)
from jobs.domain.tasks import Task, in_shares


def steps_of(tasks: Sequence[Task]) -> tuple[Step, ...]:
    """Return the steps of these tasks, the road left out, each after all that it waits for.

    Raises BadValueError for a task that waits for an unknown one, and for a ring of waiting.
    """
    on_site = {task.key: task for task in tasks if not task.per_day}
    in_working_order({key: task.after for key, task in on_site.items()})
    along = _going_along(on_site)
    taken = {task.key for task in along.values()}
    uses = _uses(tasks)
    leveled = {t.zone: [share.room for share in t.rooms] for t in tasks if t.code == "level"}
    steps: list[Step] = []
    for task in on_site.values():
        if task.code == "dump_run":
            steps += loads_of(task)
        elif task.key not in taken:
            pieces = pieces_of_task(task, uses.get(task.zone, {}), leveled.get(task.zone, ()))
            steps += _steps_of(task, along.get(task.key), pieces)
    return by_urgency(with_needs(steps, on_site, along))


def _going_along(tasks: Mapping[str, Task]) -> dict[str, Task]:
    """Return by its key what goes along with each task, where both have hours of ours."""
    pairs: dict[str, Task] = {}
    for task in tasks.values():
        code = ALONG.get(task.code)
        if code is None or not task.hours:
            continue
        for other in tasks.values():
            if (other.code, other.zone) == (code, task.zone) and _goes(task, other):
                pairs[task.key] = other
    return pairs


def _goes(task: Task, other: Task) -> bool:
    """Whether nothing stands between them: the pad before its rows, hauling after the tear-out."""
    if not other.hours or other.wait_hours_after:
        return False
    if task.code == "lay":
        return bool(task.row_count) and other.key in task.after
    return task.key in other.after


def _uses(tasks: Sequence[Task]) -> dict[str, dict[str, str]]:
    """Return by zone what rooms are lived by, whichever of its tasks says so."""
    uses: dict[str, dict[str, str]] = {}
    for task in tasks:
        known = {share.room: share.use for share in task.rooms if share.use}
        uses.setdefault(task.zone, {}).update(known)
    return uses


def _steps_of(task: Task, along: Task | None, pieces: Sequence[TaskPiece]) -> Iterator[Step]:
    along_hours, along_halves = _along_shares(along, pieces)
    for place, piece in enumerate(pieces):
        marks = [mark for mark in (piece.room, *piece.also, piece.part) if mark]
        step = Step(
            key="/".join((task.key, *marks)),
            task=task,
            room=piece.room,
            use=piece.use,
            part=piece.part,
            also=piece.also,
            halves=piece.halves,
            unbooked=piece.unbooked,
            exact=piece.hours,
            wait=quarters_of(task.wait_hours_after),
            people=people_for(task),
            most=most_at(task),
            along=along,
            along_exact=along_hours[place],
        )
        if task.row_count and task.hours:
            yield _of_rows(step, along)
        elif along is not None and (piece.halves or along_halves[place]):
            yield _hauled(step, along_halves[place])
        elif task.code in AT_ONE_GO and step.halves:
            yield replace(step, stops=(at_one_go(step),))
        elif piece.part == ODD:
            yield replace(step, wait=max(step.wait, GLUE_SETS_QUARTERS))
        else:
            yield step


def _along_shares(
    along: Task | None, pieces: Sequence[TaskPiece]
) -> tuple[Sequence[Decimal], Sequence[int]]:
    if along is None:
        return [ZERO] * len(pieces), [0] * len(pieces)
    shares = in_shares(along.hours, [piece.hours for piece in pieces])
    return shares, shared_halves(shares)


def _of_rows(step: Step, along: Task | None) -> Step:
    rows = step.task.hours_by_row
    pad = in_shares(along.hours if along else ZERO, rows if sum(rows) else (ONE,) * len(rows))
    stops = row_stops(rows, pad)
    return replace(step, halves=stops[-1].halves, stops=stops)


def _hauled(step: Step, along: int) -> Step:
    stops = haul_stops(step.halves, along, step.exact, step.along_exact)
    return replace(step, halves=stops[-1].halves, stops=stops)
