"""What a scope would take at other rates: its own quantities, each task's hours reckoned anew."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from decimal import Decimal

from jobs.domain.checks import ZERO
from jobs.domain.quantities import Quantity
from jobs.domain.scope.rates import ProductionRate, find_rate, hours_for, to_hundredths
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.tasks import TASKS, Task


def at_rates(
    scope: FrozenScope, rates: Sequence[ProductionRate], moved: Iterable[ProductionRate]
) -> FrozenScope:
    """Return a scope with the hours of its tasks as the `moved` rates give them.

    `rates` are those that it was counted with; a task that none of the moved ones is for stays as
    it is. Rooms and rows of a task keep no share of hours, since these are not what it had.
    """
    anew = {(rate.task_code, rate.driver, rate.item): rate for rate in moved}
    after = [anew.get((rate.task_code, rate.driver, rate.item), rate) for rate in rates]
    codes = {code for code, _, _ in anew}
    tasks = [
        _at(task, _driving(scope, task), rates, after) if task.code in codes else task
        for task in scope.tasks
    ]
    return replace(scope, tasks=tuple(tasks), schedule=None)


def _driving(scope: FrozenScope, task: Task) -> list[Quantity]:
    kind = TASKS[task.code]
    return [
        entry
        for entry in scope.quantities
        if entry.code in kind.drivers and (kind.whole_job or entry.zone == task.zone)
    ]


def _at(
    task: Task,
    driving: Sequence[Quantity],
    before: Sequence[ProductionRate],
    after: Sequence[ProductionRate],
) -> Task:
    then, now = (_hours(task.code, driving, rates) for rates in (before, after))
    if not then or not task.hours:
        return task
    return replace(task, hours=to_hundredths(task.hours * now / then), rooms=(), row_hours=())


def _hours(code: str, driving: Sequence[Quantity], rates: Sequence[ProductionRate]) -> Decimal:
    hours = ZERO
    for entry in driving:
        rate = find_rate(rates, code, entry.code, entry.item)
        hours += ZERO if rate is None else hours_for(entry.amount, rate)
    return hours
