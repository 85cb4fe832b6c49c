"""The federal holidays, held against a package that shares nothing with our rule."""

from datetime import date, timedelta

import holidays
import pytest

from estimates.domain.law.holidays import (
    federal_holidays,
    is_business_day,
    is_federal_holiday,
    kept_on,
)


@pytest.mark.parametrize("year", range(2015, 2061))
def test_every_day_of_a_year_is_a_holiday_where_the_package_says_so(year: int) -> None:
    known = holidays.country_holidays("US", years=(year, year + 1), observed=True)
    days = [date(year, 1, 1) + timedelta(days=number) for number in range(366)]
    ours = {day for day in days if day.year == year and is_federal_holiday(day)}
    assert ours == {day for day in known if day.year == year}


def test_the_eleven_of_2026_by_the_calendar_on_the_wall() -> None:
    # Counted by hand on a calendar of 2026, by 5 U.S.C. 6103(a).
    by_hand = ["01-01", "01-19", "02-16", "05-25", "06-19", "07-04", "09-07", "10-12", "11-11"]
    assert federal_holidays(2026) == {
        date.fromisoformat(f"2026-{day}") for day in [*by_hand, "11-26", "12-25"]
    }


def test_juneteenth_is_none_before_its_law() -> None:
    assert date(2020, 6, 19) not in federal_holidays(2020)
    assert date(2021, 6, 19) in federal_holidays(2021)


def test_a_holiday_on_a_saturday_takes_out_both_days() -> None:
    assert kept_on(date(2026, 7, 4)) == date(2026, 7, 3)
    assert not is_business_day(date(2026, 7, 3))
    assert not is_business_day(date(2026, 7, 4))


def test_new_years_day_may_be_kept_in_the_year_before() -> None:
    assert not is_business_day(date(2027, 12, 31))


def test_saturday_counts_and_sunday_does_not() -> None:
    assert is_business_day(date(2026, 11, 28))
    assert not is_business_day(date(2026, 11, 29))
