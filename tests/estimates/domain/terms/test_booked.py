"""Days on site are whole or half, as a crew is booked; what a day brings is reckoned by them."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from estimates.domain.pricing import price_scope
from estimates.domain.terms.booked import booked_days, days_of_scope, per_day
from jobs.domain.quantities import quantity
from jobs.domain.scope.hours import SiteWork, work_from
from jobs.domain.scope.rates import STARTING_RATES
from jobs.domain.scope.scope import FrozenScope, make_scope
from tests.estimates.a_price import a_book, a_scope, a_task, terms

CREW = Decimal(16)


@pytest.mark.parametrize(
    ("hours", "days"),
    [("8.00", "0.5"), ("8.01", "1"), ("16.00", "1"), ("17.00", "1.5"), ("40.00", "2.5")],
)
def test_a_day_that_fills_half_at_most_is_half_a_day(hours: str, days: str) -> None:
    assert booked_days([a_task("base", hours, zone="up")], CREW) == Decimal(days)


def test_a_job_of_two_and_a_half_days() -> None:
    tasks = (a_task("prep", "4.00", zone="up"), a_task("lay", "36.00", zone="up", rows=(1, 18)))
    scope = a_scope(tasks=tasks)
    result = price_scope(scope, a_book(), terms(margin=Decimal("0.20")))
    # Rows of 2 h: 4 h and 6 rows, 8 rows, 4 rows, so the third day is a half one.
    # 450 + 40 h x 50 = 2 450; / 0.80 = 3 062.50: 612.50 stay, for two days and a half 245 each.
    assert (result.contribution, result.days_on_site) == (Decimal("612.50"), Decimal("2.5"))
    assert result.contribution_per_day == 245


def test_a_few_hours_more_are_booked_as_half_a_day() -> None:
    scope = a_scope(tasks=(a_task("lay", "36.00", zone="up", rows=(1, 18)),))
    result = price_scope(scope, a_book(), terms(margin=Decimal("0.20")))
    # 36 h are 2.25 days by the hour and 2.5 as booked: (450 + 1 800) / 4 = 562.50; / 2.5 = 225.
    assert (result.days_on_site, result.contribution_per_day) == (Decimal("2.5"), Decimal(225))


def test_rows_are_finished_before_the_crew_goes_home() -> None:
    # Rows of 5 h: three on the first day, so the fourth fills no half of the second.
    lay = a_task("lay", "20.00", zone="up", rows=(1, 4))
    assert booked_days([lay], CREW) == Decimal("1.5")


def test_work_of_ours_does_not_wait_for_the_clients() -> None:
    out = a_task("tear_out", "16.00", zone="up")
    base = a_task("base", "8.00", zone="up", after=("tear_out:up",))
    scope = a_scope(tasks=(out, base))
    # 24 h of two people are a day and a half; 8 h of theirs alone half a day.
    assert days_of_scope(scope, CREW) == Decimal("1.5")
    assert days_of_scope(scope, CREW, ("tear_out",)) == Decimal("0.5")


def a_scheduled_scope(crew_hours: str = "16") -> FrozenScope:
    """36 h of setting up and 4 h of cleaning, and an hour on the road each day."""
    hours = {"setup": Decimal(36), "clean": Decimal(4)}
    rates = [
        replace(rate, hours=hours.get(rate.task_code, Decimal(0)) * (rate.driver == "visits"))
        for rate in STARTING_RATES
    ]
    site = SiteWork(crew_hours_per_day=Decimal(crew_hours), trip_hours=Decimal(1))
    return make_scope((), work_from([quantity("casings", 1, "one")], rates, site))


def test_the_days_of_a_scope_are_read_where_it_keeps_them() -> None:
    # 1 + 15, 1 + 15 and 1 + 10 of two people, whatever the company's crew is today.
    assert days_of_scope(a_scheduled_scope(), Decimal(16)) == 3
    assert days_of_scope(a_scheduled_scope(), Decimal(400)) == 3


def test_without_what_the_client_does_the_days_are_laid_out_for_the_same_crew() -> None:
    # Without the 4 h of cleaning the third day is 1 + 6 of 16 h.
    assert days_of_scope(a_scheduled_scope(), Decimal(400), ("clean",)) == Decimal("2.5")


def test_a_scope_of_before_is_laid_out_by_the_crew_of_today() -> None:
    scope = replace(a_scheduled_scope(), schedule=None)
    assert days_of_scope(scope, Decimal(16)) == 3
    assert days_of_scope(scope, Decimal(400)) == Decimal("0.5")


def test_no_work_has_no_days() -> None:
    assert booked_days([], CREW) is None
    assert per_day(Decimal(500), None) is None


def test_a_crew_day_that_no_crew_has_leaves_the_days_unknown() -> None:
    assert booked_days([a_task("lay", "4.00")], Decimal("0.1")) is None
