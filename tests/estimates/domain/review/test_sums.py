"""Hours and their cost column by column, at 50.00: by hand from the worked review."""

from __future__ import annotations

from decimal import Decimal

from estimates.domain.review.sums import HoursCost, summed, task_sums
from estimates.domain.review.values import TaskRow

RATE = Decimal("50.00")


def a_row(estimated: str, agreed: str, logged: str, cost: str) -> TaskRow:
    return TaskRow(
        code="lay",
        label="Lay the floor",
        zone="up",
        estimated=Decimal(estimated),
        agreed=Decimal(agreed),
        logged=Decimal(logged),
        cost=Decimal(cost),
    )


def both(hours: str, cost: str) -> HoursCost:
    return HoursCost(hours=Decimal(hours), cost=Decimal(cost))


def test_a_task_column_by_column() -> None:
    # 12 h estimated, 4 ordered, 19 logged: 600 + 200 + 150 = 950.
    sums = task_sums(a_row("12", "16", "19", "950.00"), RATE)
    assert (sums.estimated, sums.ordered) == (both("12", "600.00"), both("4", "200.00"))
    assert (sums.logged, sums.variance) == (both("19", "950.00"), both("3", "150.00"))


def test_what_rounding_leaves_is_in_the_variance() -> None:
    # 0.333 h at 50.00 are 16.65 to the cent, and 1 h is 50.00.
    sums = task_sums(a_row("0.333", "0.333", "1", "50.00"), RATE)
    assert (sums.estimated.cost, sums.variance.cost) == (Decimal("16.65"), Decimal("33.35"))


def test_all_tasks_together_sum_to_the_same() -> None:
    rows = [a_row("12", "16", "19", "950.00"), a_row("4", "4", "4.5", "225.00")]
    together = summed(task_sums(row, RATE) for row in rows)
    assert together.logged == both("23.5", "1175.00")
    assert together.variance == both("3.5", "175.00")
    assert summed([]).logged == both("0", "0")
