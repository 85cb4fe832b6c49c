"""Hours of a review and what they cost, column by column: estimated, ordered, logged, variance."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from estimates.domain.money import cents
from estimates.domain.review.values import TaskRow
from jobs.domain.checks import ZERO


@dataclass(frozen=True, kw_only=True, slots=True)
class HoursCost:
    """Hours and what they cost at the burdened rate."""

    hours: Decimal
    cost: Decimal

    def __add__(self, other: "HoursCost") -> "HoursCost":
        """Return both together."""
        return HoursCost(hours=self.hours + other.hours, cost=self.cost + other.cost)


NOTHING = HoursCost(hours=ZERO, cost=ZERO)


@dataclass(frozen=True, kw_only=True, slots=True)
class TaskSums:
    """A task, or all of them, column by column: the first two and the last sum to the third."""

    estimated: HoursCost
    ordered: HoursCost
    logged: HoursCost
    variance: HoursCost


def task_sums(row: TaskRow, burdened_rate: Decimal) -> TaskSums:
    """Return the columns of a task; what rounding leaves of the money is in the variance."""
    ordered = row.agreed - row.estimated
    first = HoursCost(hours=row.estimated, cost=cents(row.estimated * burdened_rate))
    change = HoursCost(hours=ordered, cost=cents(ordered * burdened_rate))
    rest = row.cost - first.cost - change.cost
    return TaskSums(
        estimated=first,
        ordered=change,
        logged=HoursCost(hours=row.logged, cost=row.cost),
        variance=HoursCost(hours=row.over, cost=rest),
    )


def summed(tasks: Iterable[TaskSums]) -> TaskSums:
    """Return the columns of all tasks together."""
    rows = list(tasks)
    return TaskSums(
        estimated=sum((row.estimated for row in rows), NOTHING),
        ordered=sum((row.ordered for row in rows), NOTHING),
        logged=sum((row.logged for row in rows), NOTHING),
        variance=sum((row.variance for row in rows), NOTHING),
    )
