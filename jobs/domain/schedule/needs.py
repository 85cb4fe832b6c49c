"""What each step waits for: its own room where both know theirs, else all of the task before it."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace

from jobs.domain.days.critical_path import in_working_order
from jobs.domain.schedule.step import Step, StepNeed, Stop
from jobs.domain.schedule.trade import BACK, BEARS_STEPS_QUARTERS, CLEAN_WORK, EVEN, ODD, OUT
from jobs.domain.tasks import Task

AFTER_FURNITURE = ("doors_on", "clean")
"""Doors swing last, and the hand-over comes when the furniture is back."""
WET = {("paint", "level"): 0, ("level", "paint"): BEARS_STEPS_QUARTERS}
"""What begins before another has dried, and after how many quarters: walls are painted over leveler
that bears steps, and where paint came first the leveler below it is poured the same day."""
BESIDE = {"base": "transitions", "shoe": "transitions", "setup": "load"}
"""What a task is never kept waiting by: base goes on while another sets the strips, and the saw is
set up by who has nothing left to load."""
DIRTY = ("tear_out", "prep")
"""What is over in the whole house before its stairs get their treads: it is carried past them."""
BEFORE_FURNITURE = (
    "lay", "base", "shoe", "transitions", "paint", "level", "prep", "tear_out", "fixtures_on",
)  # fmt: skip


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
    before = {step.key: step.waits_for for step in made}
    return tuple(by_key[key] for key in in_working_order(before))


def _with_needs(
    step: Step,
    by_task: Mapping[str, Sequence[Step]],
    tasks: Mapping[str, Task],
    with_task: Mapping[str, str],
) -> Step:
    after = dict.fromkeys(step.task.after)
    if step.along is not None:
        after |= dict.fromkeys(step.along.after)
    itself = {step.task.key, *([step.along.key] if step.along else [])}
    before: list[Step] = []
    waiting, looked = [with_task.get(key, key) for key in after], set(itself)
    while waiting:
        key = waiting.pop(0)
        if key in looked:
            continue
        looked.add(key)
        there = [other for other in by_task.get(key, ()) if other.part != BACK]
        beside = key in tasks and BESIDE.get(step.task.code) == tasks[key].code
        before += [] if beside else there
        passed = beside or (key in tasks and tasks[key].code in BESIDE)
        if passed or (there and _is_elsewhere(step, there[0])):
            waiting += [with_task.get(one, one) for one in tasks[key].after]
    before += _of_the_trade(step, by_task)
    dust = _dust(step, by_task)
    if step.stops and step.task.code == "lay":
        gates = _gates(step, before, dust)
        return replace(step, gates=gates, stops=_apart(step.stops, sorted(gates)))
    if 0 < step.load < step.task.passes:
        before = []
    needs = [need for other in before for need in _needs(step, other)]
    needs += [StepNeed(key=o.key) for o in by_task[step.task.key] if 0 < o.load == step.load - 1]
    needs += [StepNeed(key=other.key) for other in dust]
    return replace(step, needs=tuple(dict.fromkeys(needs)))


def _dust(step: Step, by_task: Mapping[str, Sequence[Step]]) -> list[Step]:
    """Return the tear-out of the whole floor before its clean work, but of rooms lived in.

    Those are torn out on the days that lay them.
    """
    if step.task.code not in CLEAN_WORK:
        return []
    lived_in = {
        share.room for steps in by_task.values() for share in steps[0].task.rooms if share.use
    }
    return [
        other
        for others in by_task.values()
        for other in others
        if (other.task.code, other.task.zone) == ("tear_out", step.task.zone)
        and not lived_in.intersection(other.rooms)
    ]


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
    if step.task.code == "stairs":
        return [o for others in by_task.values() for o in others if o.task.code in DIRTY]
    if step.task.code in AFTER_FURNITURE:
        return [o for o in near if o.part == BACK]
    return []


def _is_elsewhere(step: Step, other: Step) -> bool:
    """Whether a task is done room by room, and not in the room of this step."""
    rooms = {share.room for share in other.task.rooms} if other.room else ()
    return bool(step.room and rooms and not rooms.intersection(step.rooms))


def _needs(step: Step, other: Step) -> list[StepNeed]:
    """Return what a step needs of one before it; nothing where that is done in another room."""
    least = WET.get((other.task.code, step.task.code))
    need = StepNeed(key=other.key, dry=least is None, least=least or 0)
    if step.room and other.room:
        return [need] if set(step.rooms).intersection(other.rooms) else []
    if step.room and other.task.rooms:
        rows = [span for room in step.rooms if (span := _rows_in(other.task, room)) is not None]
        if rows and other.stops:
            last = max(span[1] for span in rows)
            stop = min(last, other.task.rows_before + len(other.stops)) - other.task.rows_before
            return [StepNeed(key=other.key, stop=stop)] if stop > 0 else []
    return [need]


def _gates(
    step: Step, before: Sequence[Step], dust: Sequence[Step]
) -> dict[int, tuple[StepNeed, ...]]:
    """Return what must be done before the row with this number among those still to be laid."""
    gates: dict[int, dict[StepNeed, None]] = defaultdict(dict)
    for other in dust:
        gates[1][StepNeed(key=other.key)] = None
    for other in before:
        rows = [span for room in other.rooms if (span := _rows_in(step.task, room)) is not None]
        first = max(1, min((span[0] for span in rows), default=1) - step.task.rows_before)
        if first <= len(step.stops):
            gates[first][StepNeed(key=other.key)] = None
    return {stop: tuple(needs) for stop, needs in sorted(gates.items())}


def _apart(stops: Sequence[Stop], gates: Sequence[int]) -> tuple[Stop, ...]:
    """Return the stops with those before a gate short of it: a half hour may hold several rows."""
    made = list(stops)
    for gate in reversed(gates):
        over = made[gate - 2].halves - made[gate - 1].halves + 1 if gate > 1 else 0
        if over <= 0:
            continue
        last = made[gate - 2]
        main = max(0, last.main - over)
        along = max(0, last.along - (over - (last.main - main)))
        for place in range(gate - 1):
            made[place] = _within(made[place], main, along)
    return tuple(made)


def _within(stop: Stop, main: int, along: int) -> Stop:
    main, along = min(stop.main, main), min(stop.along, along)
    return replace(stop, main=main, along=along, halves=main + along)


def _rows_in(task: Task, room: str) -> tuple[int, int] | None:
    for share in task.rooms:
        if share.room == room:
            return share.rows
    return None
