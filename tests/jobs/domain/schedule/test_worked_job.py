"""The 580 ft2 job of `worked_job`, worked by hand for one person and for two.

Exact hours by the starting rates, and the half hours that each is rounded up to:

    pick-up 1.00       2    tear out  580 x 0.6/100 = 3.48    7    lay  580 x 2/100
    load    12 x 0.1   3    haul away 580 x 0.5/100 = 2.90    6         + 220 x 0.01 + 60 x 0.03
    set up  1.50       3    dump, 580 ft2 two loads   3.00    6         = 15.60           32
    carry   12 x 0.25  6    clean, screw 580 x 0.4/100 = 2.32 5    strips 3 x 0.5          3
    base off 160 x 1.5/100  level 2 x 0.5             1.00    2    base on 160 x 5/100    16
            = 2.40     5                                           clean 1 + 0.87          4

100 halves: 50 h on site. A quarter of an hour out and one home leaves 7.5 h of an 8 h day: one
person takes 50 / 7.5, seven days. The cartons are loaded, and so carried in, before the truck
drives old floor to the dump: set up at 12:15, done at 3:15. The second day takes the living room's
base off until 8:45, its floor out until 11:45 (6 halves), cleans until 12:45 and pours until 1:45,
dry at 1:45 on the third, and takes half of the office's base off before the run, back at 3:45. The
third goes on room by room: the office bare at 11:15, clean at 12:15, the hall's floor out at 1:45,
driven off until 3:15, the hall clean at 3:45. Row 1 goes down on the fourth at 8:15;
each row takes 15.60 / 44 = 0.354 h, so 7.5 h lay 21 rows (7.45 h) and 15 h 42 (14.89 h). 2 halves
of rows, 3 of strips and 16 of base are left for the sixth day, which holds 15: the seventh goes on
with 6, and cleans from 11:15 to 1:15.

Two people take four days. On the first they pick up until 8:45 and load three halves; who is done
first goes ahead and sets up, both have by 10:15, carry in until 11:45, take the living room's base
off and its floor out until 1:45 (6 halves, 1.5 h each) and clean until 2:15. One drives the floor
off and is back at 3:45, the other pours until 3:15. The other two rooms' floor is out at 10:45 on
the second day, clean at 11:45 and driven off at 12:15: leveler is dry at 3:15, and nobody waits
three hours for half an hour of rows. Row 1 goes down at 8:15 on the third: 7.5 h each lay 42 rows
(14.89 of 15 h). 2 rows are left for the fourth (0.71 h, 2 halves), 3 halves of strips, 16 of base
and 4 of cleaning: 25, 13 for one and 12 for the other, so that it ends at 2:45.
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
    assert sum(exact.values()) == Decimal("48.77")
    laid = [entry for day in days_for(1) for entry in day.entries if entry.task_code != "travel"]
    assert sum(entry.booked for entry in laid) == 50
    assert sum(entry.hours for entry in laid) == Decimal("48.77")


def test_one_person_takes_seven_days() -> None:
    days = days_for(1)

    assert [day.date.day for day in days] == [1, 2, 3, 4, 5, 8, 9]
    assert begins(days, "lay:down") == (date(2027, 3, 4), "8:15")
    assert begins(days, "clean") == (date(2027, 3, 9), "11:15")
    assert days[-1].lanes[-1].ends == "13:15"


def test_two_people_take_four_days() -> None:
    days = days_for(2)

    assert [day.date.day for day in days] == [1, 2, 3, 4]
    assert begins(days, "level:down") == (date(2027, 3, 1), "14:15")
    assert begins(days, "lay:down") == (date(2027, 3, 3), "8:15")
    assert days[-1].lanes[-1].ends == "14:45"


@pytest.mark.parametrize(("people", "rows"), [(1, [21, 42, 44]), (2, [42, 44])])
def test_each_day_stops_at_a_whole_row(people: int, rows: list[int]) -> None:
    stops = [e.row_to for day in days_for(people) for e in day.entries if e.task_code == "lay"]
    assert stops == rows


@pytest.mark.parametrize(("people", "leaves"), [(1, ["14:15", "13:45"]), (2, ["14:15", "10:45"])])
def test_the_old_floor_is_driven_off_on_the_days_on_which_it_comes_out(
    people: int, leaves: list[str]
) -> None:
    days = days_for(people)
    for day in days:
        done = {entry.task_code for entry in day.entries}
        assert ("tear_out" in done) == ("dispose" in done) == ("dump_run" in done)
    runs = [lane.begins for day in days for lane in day.lanes if lane.task == "dump_run"]
    assert runs == leaves


def test_base_goes_on_in_a_room_while_its_strip_is_set() -> None:
    """One sets the strips, the other need not wait for them."""
    lanes = [lane for day in days_for(2) for lane in day.lanes]
    strips = [lane for lane in lanes if lane.task.startswith("transitions")]
    base = [lane for lane in lanes if lane.task.startswith("base:")]
    assert any(b.begins < s.ends for s in strips for b in base if b.room == s.room)


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


@pytest.mark.parametrize("people", [1, 2])
def test_flooring_is_carried_in_before_the_truck_leaves_for_the_dump(people: int) -> None:
    days = days_for(people)
    carried, loaded = begins(days, "carry"), begins(days, "load")
    assert carried[0] == loaded[0] == MONDAY
    assert begins(days, "carry") < begins(days, "dump_run")
