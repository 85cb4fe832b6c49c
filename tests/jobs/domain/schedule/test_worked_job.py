"""The 580 ft2 job of `worked_job`, worked by hand for one person and for two.

Exact hours by the starting rates, and the half hours that each is rounded up to:

    pick-up 1.00       2    tear out  580 x 0.6/100 = 3.48    7    lay  580 x 2/100
    load    12 x 0.1   3    haul away 580 x 0.5/100 = 2.90    6         + 220 x 0.01 + 60 x 0.03
    set up  1.50       3    dump, 580 ft2 two loads   3.00    6         = 15.60           32
    carry   12 x 0.25  6    clean, screw 580 x 0.4/100 = 2.32 5    strips 3 x 0.5          3
    base off 160 x 1.5/100  level 2 x 0.5             1.00    2    base on 160 x 5/100    16
            = 2.40     5                                           clean 1 + 0.87          4

100 halves: 50 h on site. A quarter of an hour out and one home leaves 7.5 h of an 8 h day.

One person tears out on three days, and drives off what came out on each: a third run of 1.5 h, 103
halves, 51.5 / 7.5, seven days. The living room is torn out and leveled first, since it dries
longest. On the first day that is begun at 1:15, and the truck leaves at 2:15 to be back by 3:45; on
the second the other 2 h are out at 10:15, clean at 11:15 and poured at 12:15, before the run: dry
at 12:15 on the third. The last of the old floor is at the dump on the third day; of the 3 h of
cartons 1.5 are left to the fourth, so row 1 goes down at 9:45. Each row takes 15.60 / 44 =
0.354 h: 6 h lay 16 rows (5.67 h), 13.5 h 38 (13.47 h), and the last is down at 10:45 on the sixth.

Two people take four days. On the first they pick up, load and set up until 10:45, take the living
room's base off and its floor out until 12:45 (6 halves, 1.5 h each), clean, and pour from 1:15 to
1:45; one leaves with that load at 2:15. The other two rooms' is driven off the next day, from 10:15
on. So row 1 goes down at 1:45 on the second day: 2 h each lay 11 rows (3.90 of 4 h), and the
other 33 (11.70 h) take 6 h each on the third, 8:15 to 2:15. 3 halves of strips, 16 of base and 4 of
cleaning are left, less the 6 of that afternoon's hour and a half: the fourth day ends at 12:45.
"""

from datetime import date
from decimal import Decimal

import pytest

from jobs.domain.days.crew import PlannedDay
from jobs.domain.days.days import plan_days
from tests.jobs.domain.days.planned import WEEKDAYS
from tests.jobs.domain.schedule.worked_job import the_job

MONDAY = date(2027, 3, 1)


def days_for(people: int, **uses: str) -> tuple[PlannedDay, ...]:
    work, crew = the_job(people, uses)
    return plan_days(work.tasks, crew, MONDAY, WEEKDAYS, today=MONDAY)


def begins(days: tuple[PlannedDay, ...], task: str) -> tuple[date, str]:
    """The day and the clock at which a task begins."""
    return next((day.date, lane.begins) for day in days for lane in day.lanes if lane.task == task)


def test_the_hours_are_those_worked_by_hand() -> None:
    work, _ = the_job(1)

    exact = {task.code: task.hours for task in work.tasks if task.code != "travel"}
    assert sum(exact.values()) == Decimal("50.27")
    laid = [entry for day in days_for(1) for entry in day.entries if entry.task_code != "travel"]
    assert sum(entry.booked for entry in laid) == Decimal("51.5")
    assert sum(entry.hours for entry in laid) == Decimal("50.27")


def test_one_person_takes_seven_days() -> None:
    days = days_for(1)

    assert [day.date.day for day in days] == [1, 2, 3, 4, 5, 8, 9]
    assert begins(days, "lay:down") == (date(2027, 3, 4), "9:45")
    assert begins(days, "clean") == (date(2027, 3, 9), "12:45")
    assert days[-1].lanes[-1].ends == "14:45"


def test_two_people_take_four_days() -> None:
    days = days_for(2)

    assert [day.date.day for day in days] == [1, 2, 3, 4]
    assert begins(days, "level:down") == (MONDAY, "13:15")
    assert begins(days, "lay:down") == (date(2027, 3, 2), "13:45")
    assert days[-1].lanes[-1].ends == "12:45"


@pytest.mark.parametrize(("people", "rows"), [(1, [16, 38, 44]), (2, [11, 44])])
def test_each_day_stops_at_a_whole_row(people: int, rows: list[int]) -> None:
    stops = [e.row_to for day in days_for(people) for e in day.entries if e.task_code == "lay"]
    assert stops == rows


@pytest.mark.parametrize(
    ("people", "leaves"), [(1, ["14:15", "12:15", "11:45"]), (2, ["14:15", "10:15"])]
)
def test_the_old_floor_is_driven_off_on_the_days_on_which_it_comes_out(
    people: int, leaves: list[str]
) -> None:
    days = days_for(people)
    for day in days:
        done = {entry.task_code for entry in day.entries}
        assert ("tear_out" in done) == ("dispose" in done) == ("dump_run" in done)
    runs = [lane.begins for day in days for lane in day.lanes if lane.task == "dump_run"]
    assert runs == leaves


def test_a_bedroom_is_torn_out_on_the_day_on_which_it_is_laid() -> None:
    days = days_for(2, office="bedroom")

    torn = next(
        d
        for d in days
        if any(lane.task == "tear_out:down" and lane.room == "office" for lane in d.lanes)
    )
    laid = next(
        d
        for d in days
        if any(e.task_code == "lay" and e.row_to and e.row_to >= 25 for e in d.entries)
    )
    assert torn.date == laid.date
    assert [night for day in days for night in day.nights if night.room == "office"] == [
        *torn.nights
    ]
