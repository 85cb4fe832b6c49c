"""The least time of placed work, by hand.

Set-up takes 1 h; after it two floors are torn out, 2 h each, by one person each. By the order alone
that is 1 + 2 = 3 h, for two people too; for one 1 + 2 + 2 = 5 h.
"""

from datetime import date
from decimal import Decimal

import pytest

from jobs.domain.days.placed.least import LeastHours, least_hours
from jobs.domain.days.placed.network import Placed
from jobs.domain.days.placed.pieces import PlacedSpell, SiteClock, pieces_of
from jobs.domain.tasks import Task

MONDAY = date(2027, 3, 1)


def a_spell(task: str, begins: int, ends: int) -> PlacedSpell:
    return PlacedSpell(
        day=MONDAY, person="Lead", task=task, room="", part="", begins=begins, ends=ends
    )


@pytest.mark.parametrize(("people", "hours"), [(1, 5), (2, 3)])
def test_the_least_hours_are_those_of_the_order_and_of_the_crew(people: int, hours: int) -> None:
    torn = [
        Task(code="tear_out", label="T", hours=Decimal(2), basis="b", zone=zone, after=("setup",))
        for zone in ("up", "down")
    ]
    setup = Task(code="setup", label="S", hours=Decimal(1), basis="b")
    spells = [
        a_spell("setup", 32, 36),
        a_spell("tear_out:up", 36, 44),
        a_spell("tear_out:down", 44, 52),
    ]
    tasks = {task.key: task for task in (setup, *torn)}
    placed = Placed(tasks=tasks, spells=spells, pieces=pieces_of(spells), waits=[])
    clock = SiteClock(dates=(MONDAY,), opens=32, closes=64)
    assert least_hours(placed, clock, people) == LeastHours(order=Decimal(3), crew=Decimal(hours))
