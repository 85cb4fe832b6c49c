"""What is driven for: the pick-up of the flooring, and runs to the dump by load and by day."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from jobs.domain.checks import ZERO
from jobs.domain.days.crew import PlannedDay
from jobs.domain.days.placed.pieces import quarter_of
from jobs.domain.quantities import Quantity, in_units, quantity
from jobs.domain.scope.rules import up
from jobs.domain.tasks import MOST_LOADS, Task

DUMP_LOAD_FT2 = Decimal(400)
"""Old floor that goes to the dump in one run; common practice, no source."""

TORN_OUT = ("tear_out", "dispose")


def hauled(taken: Sequence[Quantity]) -> list[Quantity]:
    """Return what is driven for before the days are known: one pick-up, full loads to the dump."""
    driven = []
    if any(entry.code == "cartons" for entry in taken):
        driven.append(quantity("pick_ups", 1, "all cartons at once, from one lot"))
    old = sum((entry.amount for entry in taken if entry.code == "disposal"), ZERO)
    if old:
        basis = f"{old} ft2 of old floor, {DUMP_LOAD_FT2} ft2 a run, begun ones counted whole"
        driven.append(quantity("dump_runs", up(old / DUMP_LOAD_FT2), basis))
    return driven


def lacks_a_run(days: Sequence[PlannedDay], tasks: Sequence[Task]) -> bool:
    """Whether these days take one run more than the tasks have: one each day that tears out."""
    runs = next((task.passes for task in tasks if task.code == "dump_run" and task.hours), 0)
    torn = [day for day in days if _last(day, TORN_OUT) is not None]
    over = sum(1 for day in torn if not _is_driven_off(day))
    return bool(over) and 0 < runs < min(MOST_LOADS, len(torn) + over)


def _is_driven_off(day: PlannedDay) -> bool:
    """Whether the truck leaves with what came out on a day, on that day."""
    last = _last(day, TORN_OUT)
    runs = [lane for lane in day.lanes if lane.task.split(":")[0] == "dump_run"]
    return last is None or any(quarter_of(lane.begins) >= last for lane in runs)


def _last(day: PlannedDay, codes: Sequence[str]) -> int | None:
    """Return when the last of such work ends on a day; None where there is none of it."""
    ends = [quarter_of(lane.ends) for lane in day.lanes if lane.task.split(":")[0] in codes]
    return max(ends, default=None)


def with_one_more_run(
    counted: Sequence[Quantity], tasks: Sequence[Task]
) -> tuple[tuple[Quantity, ...], tuple[Task, ...]]:
    """Return what is counted and the tasks with one more run to the dump."""
    runs = sum((entry.amount for entry in counted if entry.code == "dump_runs"), ZERO)
    now = runs + 1
    basis = "a run on each day on which old floor comes out: none of it stays overnight"
    return (
        tuple(
            replace(entry, amount=now, basis=basis) if entry.code == "dump_runs" else entry
            for entry in counted
        ),
        tuple(_more(task, runs, now) if task.code == "dump_run" else task for task in tasks),
    )


def _more(task: Task, runs: Decimal, now: Decimal) -> Task:
    was, words = (f": {in_units(amount, 'each')} at " for amount in (runs, now))
    hours = (task.hours * now / runs).quantize(Decimal("0.01"))
    basis = task.basis.replace(was, words, 1)
    return replace(task, hours=hours, basis=basis, passes=int(now))
