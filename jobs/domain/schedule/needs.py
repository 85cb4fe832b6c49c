"""What each step waits for: its own room where both know theirs, else all of the task before it."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from jobs.domain.days.critical_path import in_working_order
from jobs.domain.schedule.step import Need, Step
from jobs.domain.schedule.trade import BACK, EVEN, ODD, OUT
from jobs.domain.tasks import Task

AFTER_FURNITURE = ("doors_on", "clean")
"""Doors swing last, and the hand-over comes when the furniture is back."""
BEFORE_FURNITURE = ("lay", "base", "shoe", "paint", "level", "prep", "tear_out", "fixtures_on")


def with_needs(
    steps: Sequence[Step], tasks: Mapping[str, Task], along: Mapping[str, Task]
) -> tuple[Step, ...]:
    """Return the steps in working order, each with all that it waits for."""
    by_task: dict[str, list[Step]] = defaultdict(list)
    for step in steps:
        by_task[step.task.key].append(step)
    with_task = {other.key: key for key, other in along.items()}
    made = [_with_needs(step, by_task, tasks, with_task) for step in steps]
    by_key = {step.key: step for step in made}
    before = {step.key: tuple(dict.fromkeys(_keys(step))) for step in made}
    return tuple(by_key[key] for key in in_working_order(before))


def _keys(step: Step) -> Iterable[str]:
    yield from (need.key for need in step.needs)
    for needs in step.gates.values():
        yield from (need.key for need in needs)


def _with_needs(
    step: Step,
    by_task: Mapping[str, Sequence[Step]],
    tasks: Mapping[str, Task],
    with_task: Mapping[str, str],
) -> Step:
    after = dict.fromkeys(step.task.after)
    if step.along is not None:
        after |= dict.fromkeys(step.along.after)
    own = {step.task.key, *([step.along.key] if step.along else [])}
    before = [
        other
        for key in dict.fromkeys(with_task.get(key, key) for key in after if key not in own)
        if key not in own
        for other in by_task.get(key, ())
        if other.part != BACK
    ]
    before += _of_the_trade(step, by_task)
    if step.stops and step.task.code == "lay":
        return replace(step, gates=_gates(step, before))
    needs = (need for other in before for need in _needs(step, other))
    return replace(step, needs=tuple(dict.fromkeys(needs)))


def _of_the_trade(step: Step, by_task: Mapping[str, Sequence[Step]]) -> list[Step]:
    """Return what comes before a step by its part: furniture goes back last, even treads after."""
    same = by_task[step.task.key]
    if step.part == EVEN:
        return [other for other in same if other.part == ODD]
    near = [
        other
        for others in by_task.values()
        for other in others
        if not step.task.zone or other.task.zone in ("", step.task.zone)
    ]
    if step.part == BACK:
        out = [o for o in same if o.part == OUT and o.room == step.room]
        return out + [o for o in near if o.task.code in BEFORE_FURNITURE]
    if step.task.code in AFTER_FURNITURE:
        return [o for o in near if o.part == BACK]
    return []


def _needs(step: Step, other: Step) -> list[Need]:
    """Return what a step needs of one before it; nothing where that is done in another room."""
    if step.room and other.task.rooms and step.room in {share.room for share in other.task.rooms}:
        if other.room and other.room != step.room:
            return []
        last = _rows_in(other.task, step.room)
        if last is not None and other.stops:
            stop = min(last[1], other.task.rows_before + len(other.stops)) - other.task.rows_before
            return [Need(key=other.key, stop=stop)] if stop > 0 else []
    return [Need(key=other.key)]


def _gates(step: Step, before: Sequence[Step]) -> dict[int, tuple[Need, ...]]:
    """Return what must be done before the row with this number among those still to be laid."""
    gates: dict[int, dict[Need, None]] = defaultdict(dict)
    for other in before:
        rows = _rows_in(step.task, other.room) if other.room else None
        first = 1 if rows is None else max(1, rows[0] - step.task.rows_before)
        if first <= len(step.stops):
            gates[first][Need(key=other.key)] = None
    return {stop: tuple(needs) for stop, needs in sorted(gates.items())}


def _rows_in(task: Task, room: str) -> tuple[int, int] | None:
    for share in task.rooms:
        if share.room == room:
            return share.rows
    return None
