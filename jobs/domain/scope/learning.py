"""What the logs of closed jobs say about the production rates.

A job's hours for a task are held against what today's rates would give for the very quantities that
the job had: so rates taken twice, or after other jobs were taken, come out the same. A rate learns
only from jobs in which it counted: tearing out carpet says nothing about tile.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.domain.checks import ZERO
from jobs.domain.quantities import Quantity
from jobs.domain.scope.rates import LoggedWork, ProductionRate, find_rate, hours_for, learned_rates
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.tasks import TASKS

LEAST_CHANGE = Decimal("0.02")
"""A rate that moves by less than this part of itself stands: logs are kept in quarter hours."""


@dataclass(frozen=True, kw_only=True, slots=True)
class DoneJob:
    """A job that is done: its name, its agreed scope, and the man-hours logged by task code."""

    name: str
    scope: FrozenScope
    logged: Mapping[str, Decimal]


@dataclass(frozen=True, kw_only=True, slots=True)
class RateChange:
    """A rate as it counts now, and as the logs have it."""

    before: ProductionRate
    after: ProductionRate


def rate_changes(
    rates: Sequence[ProductionRate], jobs: Iterable[DoneJob]
) -> tuple[RateChange, ...]:
    """Return each rate that the logs have otherwise, in the order given; () where none does."""
    done = tuple(jobs)
    changes = []
    for rate in rates:
        by_job = [_work(rate.task_code, job, rates) for job in done if _counted(rate, job, rates)]
        worked = [entry for entry in by_job if entry.logged and entry.estimated]
        after = learned_rates([rate], worked)[0]
        if abs(after.hours - rate.hours) > rate.hours * LEAST_CHANGE:
            changes.append(RateChange(before=rate, after=after))
    return tuple(changes)


def _counted(rate: ProductionRate, job: DoneJob, rates: Sequence[ProductionRate]) -> bool:
    return any(
        entry.code == rate.driver
        and find_rate(rates, rate.task_code, entry.code, entry.item) == rate
        for entry in job.scope.quantities
    )


def _work(task_code: str, job: DoneJob, rates: Sequence[ProductionRate]) -> LoggedWork:
    """Return what a job logged for a task beside what today's rates give for its quantities."""
    drivers = TASKS[task_code].drivers
    driving = [entry for entry in job.scope.quantities if entry.code in drivers]
    return LoggedWork(
        job=job.name,
        task_code=task_code,
        estimated=sum((_hours(task_code, entry, rates) for entry in driving), ZERO),
        logged=job.logged.get(task_code, ZERO),
    )


def _hours(task_code: str, entry: Quantity, rates: Sequence[ProductionRate]) -> Decimal:
    rate = find_rate(rates, task_code, entry.code, entry.item)
    return ZERO if rate is None else hours_for(entry.amount, rate)
