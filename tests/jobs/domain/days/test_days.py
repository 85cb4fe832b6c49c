"""Days hold the scope's hours and the plan's rows, in an order that a crew can follow."""

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from jobs.domain.days.crew import CrewDay, DaysError
from jobs.domain.days.days import plan_days
from jobs.domain.scope.hours import SiteWork, work_from
from jobs.domain.scope.rates import STARTING_RATES
from jobs.domain.scope.takeoff import take_off
from tests.jobs.domain.days.planned import (
    MONDAY,
    WEEKDAYS,
    a_task,
    entries,
    hours,
    planned,
    weekdays_but,
)
from tests.jobs.floors import a_doorway, a_job, a_room

HALF_HOUR: dict[str, Any] = {"hours_per_day": Decimal("0.5")}


def test_a_task_longer_than_a_day_goes_on_the_next() -> None:
    days = planned(a_task("tear_out", "10.50"))

    assert hours(days, "tear_out") == [(1, Decimal(8)), (2, Decimal("2.5"))]


def test_two_people_do_twice_as_much_in_a_day() -> None:
    days = planned(a_task("tear_out", "16.00"), people=2)

    assert [day.crew_hours for day in days] == [16]


def test_the_weekend_is_left_out() -> None:
    days = planned(a_task("tear_out", "16.00"), start=date(2026, 3, 6))

    assert [day.date for day in days] == [date(2026, 3, 6), date(2026, 3, 9)]


def test_a_holiday_is_left_out() -> None:
    days = planned(a_task("tear_out", "16.00"), working=weekdays_but({date(2026, 3, 3)}))

    assert [day.date for day in days] == [MONDAY, date(2026, 3, 4)]


def test_what_comes_after_waits_even_if_it_is_named_first() -> None:
    days = planned(a_task("base", "8.00", after=("lay",)), a_task("lay", "8.00", rows=(1, 4)))

    assert hours(days, "lay") == [(1, Decimal(8))]
    assert hours(days, "base") == [(2, Decimal(8))]


def test_leveler_of_24_hours_lets_the_floor_begin_the_next_day() -> None:
    days = planned(
        a_task("level", "2.00", wait_hours_after=Decimal(24)),
        a_task("lay", "8.00", after=("level",), rows=(1, 8)),
    )

    # Done at 10:00 on Monday: from 10:00 on Tuesday six hours and six rows, the rest on Wednesday.
    assert days[0].notes == ("level: stay off it, wait until 2026-03-03 10:00.",)
    assert hours(days, "lay") == [(2, Decimal(6)), (3, Decimal(2))]


def test_the_weekend_counts_for_curing() -> None:
    friday = date(2026, 3, 6)
    days = planned(
        a_task("level", "2.00", wait_hours_after=Decimal(48)),
        a_task("lay", "8.00", after=("level",), rows=(1, 8)),
        start=friday,
    )

    assert [day.date for day in days] == [friday, date(2026, 3, 9)]
    assert hours(days, "lay") == [(2, Decimal(8))]


def test_while_leveler_cures_other_work_goes_on() -> None:
    days = planned(
        a_task("level", "2.00", wait_hours_after=Decimal(24)),
        a_task("lay", "4.00", after=("level",), rows=(1, 4)),
        a_task("undercut", "6.00"),
    )

    assert [day.crew_hours for day in days] == [8, 4]


def test_cartons_lie_without_hours_and_the_floor_waits() -> None:
    days = planned(
        a_task("carry", "1.00", helper=True),
        a_task("acclimatise", "0.00", after=("carry",), wait_hours_after=Decimal(48)),
        a_task("lay", "4.00", after=("acclimatise",), rows=(1, 4)),
    )

    assert days[0].notes == ("acclimatise: wait until 2026-03-04 9:00.",)
    assert [(day.number, day.date) for day in days] == [(1, MONDAY), (2, date(2026, 3, 4))]


def test_a_day_ends_after_a_whole_row() -> None:
    # Five rows of two hours: three in the first seven-hour day, never half of the fourth.
    crew = CrewDay(people=1, hours_per_day=Decimal(7))
    days = planned(a_task("lay", "10.00", rows=(1, 5)), crew=crew)

    rows = [(entry.row_from, entry.row_to) for _, entry in entries(days, "lay")]
    assert rows == [(1, 3), (4, 5)]
    assert hours(days, "lay") == [(1, Decimal(6)), (2, Decimal(4))]


def test_the_rest_of_a_day_after_the_last_whole_row_goes_to_other_work() -> None:
    crew = CrewDay(people=1, hours_per_day=Decimal(7))
    days = planned(a_task("lay", "10.00", rows=(1, 5)), a_task("shoe", "1.00"), crew=crew)

    assert hours(days, "shoe") == [(1, Decimal(1))]


def test_a_row_longer_than_a_day_is_told_on_the_day_it_is_finished() -> None:
    days = planned(a_task("lay", "20.00", rows=(1, 2)))

    rows = [(number, entry.row_from, entry.row_to) for number, entry in entries(days, "lay")]
    assert rows == [(1, None, None), (2, 1, 1), (3, 2, 2)]


def test_the_open_edge_is_protected_in_the_evening() -> None:
    crew = CrewDay(people=1, hours_per_day=Decimal(7))
    days = planned(a_task("lay", "10.00", rows=(1, 5), zone="hall"), crew=crew)

    assert days[0].notes == ("Protect and ramp the open edge (hall) after row 3.",)
    assert days[1].notes == ()


def test_helpers_carry_while_installers_lay() -> None:
    days = planned(
        a_task("lay", "8.00", rows=(1, 4)),
        a_task("dispose", "8.00", helper=True),
        crew=CrewDay(people=1, helpers=1),
    )

    assert len(days) == 1
    assert days[0].crew_hours == 16


def test_helpers_do_not_lay() -> None:
    days = planned(a_task("lay", "16.00", rows=(1, 4)), crew=CrewDay(people=1, helpers=3))

    assert hours(days, "lay") == [(1, Decimal(8)), (2, Decimal(8))]


def test_installers_lend_a_hand_where_they_have_nothing_of_their_own() -> None:
    days = planned(a_task("tear_out", "16.00", helper=True), crew=CrewDay(people=1, helpers=1))

    assert len(days) == 1


def test_travel_takes_its_share_of_each_day() -> None:
    days = planned(
        a_task("tear_out", "14.00"), a_task("travel", "2.00", per_day=Decimal(1)), people=1
    )

    assert hours(days, "travel") == [(1, Decimal(1)), (2, Decimal(1))]
    assert [day.crew_hours for day in days] == [8, 8]


def test_every_day_on_site_is_driven_to_and_no_other() -> None:
    days = planned(a_task("tear_out", "9.00"), a_task("travel", "3.00", per_day=Decimal(1)))

    assert hours(days, "travel") == [(1, Decimal(1)), (2, Decimal(1))]
    assert [day.crew_hours for day in days] == [8, 3]


def test_an_hour_on_the_road_is_half_an_hour_out_and_half_an_hour_home() -> None:
    (day,) = planned(a_task("tear_out", "7.00"), a_task("travel", "1.00", per_day=Decimal(1)))

    assert [(lane.begins, lane.ends) for lane in day.lanes] == [("8:30", "15:30")]


def test_travel_that_eats_up_the_day_is_refused() -> None:
    with pytest.raises(
        DaysError, match=r"travel a day is '8 h'; accepted: less than the crew's 8 h"
    ):
        planned(a_task("travel", "8.00", per_day=Decimal(8)))


def test_a_hold_point_blocks_its_task_until_it_is_cleared() -> None:
    held = a_task("tear_out", "4.00", hold_points=("asbestos", "lead"))

    blocked = planned(held, cleared={"lead"})[0]
    assert blocked.entries[0].blocked
    assert blocked.hold_points == ("asbestos", "lead")
    assert blocked.notes == ("tear_out is blocked until cleared: asbestos.",)
    assert not planned(held, cleared={"lead", "asbestos"})[0].entries[0].blocked


def test_a_task_held_back_begins_on_its_day() -> None:
    days = planned(a_task("lay", "4.00", rows=(1, 4)), not_before={"lay": date(2026, 3, 5)})

    assert [day.date for day in days] == [date(2026, 3, 5)]


def test_the_last_entry_of_a_task_finishes_it() -> None:
    days = planned(a_task("tear_out", "10.00"))

    assert [entry.finishes for _, entry in entries(days, "tear_out")] == [False, True]


def test_a_whole_job_goes_from_pick_up_to_hand_over() -> None:
    job = a_job(
        rooms=(a_room(base_treatment="replace", old_floor="carpet", leveler_bags=2),),
        doorways=(a_doorway(casings=2, doors_off=1),),
    )
    work = work_from(take_off(job), STARTING_RATES, SiteWork(crew_hours_per_day=Decimal(8)))

    days = plan_days(work.tasks, CrewDay(people=1), MONDAY, WEEKDAYS, today=MONDAY)

    assert sum(day.crew_hours for day in days) == work.hours
    begun = [entry.task_code for entry in days[0].entries]
    assert begun[:4] == ["travel", "pick_up", "load", "setup"]
    assert days[-1].entries[-1].task_code == "clean"


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"people": 0}, r"crew.people is 0; accepted: at least 1 person in the crew"),
        ({"helpers": -1}, r"crew.helpers is -1"),
        ({"hours_per_day": Decimal(0)}, r"crew.hours_per_day is 0; accepted: 0.25 to 16 hours"),
        ({"hours_per_day": Decimal(25)}, r"crew.hours_per_day is 25; accepted: 0.25 to 16 hours"),
        ({"starts": Decimal(24)}, r"crew.starts is 24"),
    ],
)
def test_a_crew_that_cannot_be_is_refused(change: dict[str, Any], said: str) -> None:
    with pytest.raises(DaysError, match=said):
        CrewDay(**{"people": 1} | change)


def test_a_start_in_the_past_is_refused() -> None:
    with pytest.raises(DaysError, match=r"start is 2026-03-01; accepted: 2026-03-02 or later"):
        planned(a_task("lay", "1.00", rows=(1, 1)), start=date(2026, 3, 1))


def test_a_calendar_without_a_working_day_is_refused() -> None:
    with pytest.raises(DaysError, match=r"working days is 'none'; accepted: a working day within"):
        planned(a_task("tear_out", "1.00"), working=lambda day: False)


def test_work_that_may_not_begin_within_a_year_is_refused() -> None:
    with pytest.raises(DaysError, match=r"tasks is 'waiting since 2026-03-02'"):
        planned(a_task("tear_out", "1.00"), not_before={"tear_out": date(2028, 1, 1)})


def test_rows_without_hours_are_refused() -> None:
    with pytest.raises(DaysError, match=r"task lay.hours is 0.00; accepted: more than 0"):
        planned(a_task("lay", "0.00", rows=(1, 4)))


def test_the_same_input_gives_the_same_days() -> None:
    tasks = [a_task("lay", "33.33", rows=(1, 17)), a_task("dispose", "7.77", helper=True)]

    crew = CrewDay(people=2, helpers=1)
    assert planned(*tasks, crew=crew) == planned(*tasks, crew=crew)


def test_three_hundred_rows_in_an_hour_are_each_told_once() -> None:
    # An hour is two halves, for 300 rows of 0.00 or 0.01 h: row 150 is down after the first.
    days = planned(a_task("lay", "1.00", rows=(1, 300)), crew=CrewDay(people=1, **HALF_HOUR))

    rows = [(entry.row_from, entry.row_to) for _, entry in entries(days, "lay")]
    assert rows == [(1, 152), (153, 300)]


def test_half_hours_are_the_exact_ones_rounded_up_by_task() -> None:
    days = planned(a_task("tear_out", "11.26"))

    laid = [(entry.hours, entry.booked) for _, entry in entries(days, "tear_out")]
    assert laid == [(Decimal(8), Decimal(8)), (Decimal("3.26"), Decimal("3.5"))]


def test_nobody_drives_out_for_less_than_two_hours() -> None:
    days = planned(a_task("tear_out", "9.00"))

    assert [day.booked for day in days] == [7, 2]
