"""Work that somebody split: a first part of a task as it comes, the rest not before a date."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal

from jobs.domain.checks import ZERO
from jobs.domain.days.crew import CrewDay
from jobs.domain.schedule.halves import QUARTERS_A_DAY
from jobs.domain.schedule.step import Step, StepNeed, Stop


@dataclass(frozen=True, kw_only=True, slots=True)
class TaskSplit:
    """A task that goes no further than a `row`, or than `halves` of what is left, before a date."""

    until: date
    row: int = 0
    halves: int = 0


@dataclass(frozen=True, kw_only=True, slots=True)
class SplitWork:
    """All that was split of a job: tasks by their keys, half hours of short days, crews by date."""

    tasks: Mapping[str, TaskSplit] = field(default_factory=dict)
    short: Mapping[date, int] = field(default_factory=dict)
    crews: Mapping[date, CrewDay] = field(default_factory=dict)


NOTHING_SPLIT = SplitWork()


def split_steps(
    steps: Sequence[Step], splits: Mapping[str, TaskSplit], start: date
) -> tuple[Step, ...]:
    """Return the steps, those of tasks that are split shut beyond their first part.

    The half hours of a task are counted over its steps in their order, room after room.
    """
    gone = dict.fromkeys(splits, 0)
    made: list[Step] = []
    for step in steps:
        split = splits.get(step.task.key)
        if split is None:
            made.append(step)
            continue
        moment = (split.until - start).days * QUARTERS_A_DAY
        first = split.halves - gone[step.task.key]
        if step.task.row_count:
            first = split.row - step.task.rows_before
        made.append(_shut(step, first, StepNeed(key="", since=moment)))
        gone[step.task.key] += _halves_alone(step)
    return tuple(made)


def _halves_alone(step: Step) -> int:
    """Return the half hours of a step without what goes along with it."""
    return step.stops[-1].main if step.stops else step.halves


def _shut(step: Step, first: int, need: StepNeed) -> Step:
    """Return a step of which so many rows or half hours may be done before a need is met."""
    rows = step.task.row_count > 0
    if first >= (len(step.stops) if rows else _halves_alone(step)):
        return step
    if first <= 0:
        return replace(step, needs=(*step.needs, need))
    stops = step.stops or tuple(_half_hours(step))
    behind = first if rows else next(n for n, stop in enumerate(stops, 1) if stop.main >= first)
    gates = {**step.gates, behind + 1: (*step.gates.get(behind + 1, ()), need)}
    return replace(step, stops=stops, gates=dict(sorted(gates.items())))


def _half_hours(step: Step) -> Iterator[Stop]:
    """Yield a stop after each half hour of a step that had none."""
    for done in range(1, step.halves + 1):
        exact = step.exact if done == step.halves else min(Decimal(done) / 2, step.exact)
        yield Stop(halves=done, main=done, along=0, exact=exact, along_exact=ZERO)
