"""What is left once some days were worked: logged work is done, the rest is planned again."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

from jobs.domain.days.remaining import Left, Worked, what_is_left
from tests.jobs.agreed import TASKS, a_task

TUESDAY = date(2027, 3, 2)


def worked(key: str, hours: str, **values: Any) -> Worked:
    marks: dict[str, Any] = {"date": TUESDAY, "logged": True} | values
    return Worked(key=key, hours=Decimal(hours), **marks)


def left_of(left: Left, key: str) -> tuple[Decimal, tuple[int, int] | None]:
    task = next(task for task in left.tasks if task.key == key)
    return task.hours, task.rows


def test_nothing_worked_leaves_everything() -> None:
    assert what_is_left(TASKS, []).tasks == TASKS


def test_a_logged_task_counts_as_done_and_nobody_waits_for_it() -> None:
    left = what_is_left(TASKS, [worked("setup", "1.50"), worked("tear_out:Den", "4.00")])
    assert [task.key for task in left.tasks] == ["lay:Den", "base:Den", "clean"]
    assert left.tasks[0].after == ()


def test_a_task_that_nobody_logged_is_planned_again() -> None:
    left = what_is_left(TASKS, [worked("tear_out:Den", "4.00", logged=False)])
    assert left_of(left, "tear_out:Den") == (Decimal("4.00"), None)


def test_rows_go_on_after_those_that_were_logged() -> None:
    part = worked("lay:Den", "12.00", planned_rows=(1, 6), logged_rows=((1, 3),))
    assert left_of(what_is_left(TASKS, [part]), "lay:Den") == (Decimal(10), (4, 8))


def test_rows_that_nobody_counted_are_taken_as_planned() -> None:
    part = worked("lay:Den", "12.00", planned_rows=(1, 6))
    assert left_of(what_is_left(TASKS, [part]), "lay:Den") == (Decimal(4), (7, 8))


def test_rows_beyond_a_gap_do_not_count_as_laid() -> None:
    part = worked("lay:Den", "12.00", logged_rows=((1, 2), (5, 6)))
    assert left_of(what_is_left(TASKS, [part]), "lay:Den") == (Decimal(12), (3, 8))


def test_leveler_that_cures_holds_back_what_waits_for_it() -> None:
    level = a_task("level", "2.00", wait_hours_after=Decimal(24))
    lay = a_task("lay", "8.00", rows=(1, 8), after=("level:Den",))
    left = what_is_left([level, lay], [worked("level:Den", "2.00")])
    assert left.not_before == {"lay:Den": date(2027, 3, 4)}


def test_cartons_that_were_carried_in_do_not_wait_anew() -> None:
    carry = a_task("carry", "2.00", zone="")
    cartons = a_task("acclimatise", "0.00", after=("carry",), wait_hours_after=Decimal(48))
    lay = a_task("lay", "8.00", rows=(1, 8), after=("acclimatise:Den",))
    left = what_is_left([carry, cartons, lay], [worked("carry", "2.00")])
    # From Tuesday, 16:00 at the latest: 48 h are over on Thursday at 16:00.
    assert [task.key for task in left.tasks] == ["lay:Den"]
    assert left.not_before == {"lay:Den": date(2027, 3, 5)}


def test_a_run_to_the_dump_that_was_driven_is_none_of_those_left() -> None:
    # Three runs of 1.5 h; one is logged on Tuesday: two are left, of 3 h.
    runs = a_task("dump_run", "4.50", zone="", passes=3)
    left = what_is_left([runs], [worked("dump_run", "1.50")])
    assert [(task.hours, task.passes) for task in left.tasks] == [(Decimal(3), 2)]
