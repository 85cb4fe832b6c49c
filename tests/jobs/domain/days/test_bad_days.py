"""Input that no crew can work by: each is refused with its value and what is accepted."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest

from jobs.domain.checks import BadValueError
from jobs.domain.days.crew import CrewDay, DaysError
from tests.jobs.domain.days.planned import MONDAY, WEEKDAYS, a_task, planned


@pytest.mark.parametrize("hours", ["0", "24"])
def test_a_day_of_no_hours_or_of_all_of_them_is_refused(hours: str) -> None:
    with pytest.raises(DaysError, match=rf"hours_per_day is {hours}; accepted: 0.25 to 16 hours"):
        CrewDay(people=1, hours_per_day=Decimal(hours))


def test_no_crew_is_refused() -> None:
    with pytest.raises(DaysError, match="people is 0; accepted: at least 1 person in the crew"):
        CrewDay(people=0)


def test_a_start_in_the_past_names_today() -> None:
    yesterday = MONDAY - timedelta(days=1)
    with pytest.raises(DaysError, match=f"start is {yesterday}; accepted: {MONDAY} or later"):
        planned(a_task("tear_out", "4.00"), start=yesterday)


def test_a_loop_is_named_task_by_task() -> None:
    first = a_task("tear_out", "4.00", after=("base",))
    second = a_task("base", "4.00", after=("tear_out",))
    with pytest.raises(BadValueError, match="tear_out") as refused:
        planned(first, second)
    assert "base" in str(refused.value)
    assert "no ring of waiting" in str(refused.value)


def test_a_job_longer_than_a_quarter_is_laid_out_to_its_end() -> None:
    """560 h of one person, 8 h a day: 70 working days, 14 weeks: from March 2 to June 5, 2026."""
    days = planned(a_task("tear_out", "560.00"))
    assert len(days) == 70
    assert (days[0].date, days[-1].date) == (date(2026, 3, 2), date(2026, 6, 5))
    assert sum(day.crew_hours for day in days) == 560


@pytest.mark.parametrize(("friday", "monday"), [((2026, 3, 6), 9), ((2026, 10, 30), 2)])
def test_a_wait_over_a_daylight_saving_weekend_ends_by_the_calendar(
    friday: tuple[int, int, int], monday: int
) -> None:
    """Clocks change on March 8 and November 1, 2026 (15 U.S.C. 260a): the Monday begins at 8:00."""
    start = date(*friday)
    days = planned(
        a_task("level", "8.00", wait_hours_after=Decimal(24)),
        a_task("lay", "4.00", after=("level",), rows=(1, 4)),
        start=start,
        today=start,
        working=WEEKDAYS,
    )
    assert [day.date.day for day in days] == [start.day, monday]
    assert days[1].lanes[0].begins == "8:00"


def test_work_beyond_a_year_of_days_off_says_since_when() -> None:
    with pytest.raises(DaysError, match=f"a working day within a year of {MONDAY}"):
        planned(a_task("tear_out", "4.00"), working=lambda _: False)
