"""Rates of an older scope, read from the sentences of its tasks."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from jobs.domain.quantities import quantity
from jobs.domain.scope.changed.said import crew_hours_said, rates_said, said_over, trip_hours_said
from jobs.domain.scope.hours import SiteWork, work_from
from jobs.domain.scope.rates import STARTING_RATES
from jobs.domain.scope.rates_used import RateUsed, rate_used
from jobs.domain.scope.scope import FrozenScope, ScopeZone

LEARNED = "learned from 3 jobs (two of them; in a hurry)"


def an_older_scope() -> FrozenScope:
    """A scope whose laying was learned, and which kept its rates in words alone."""
    rates = [
        replace(rate, hours=Decimal("2.345678"), source=LEARNED)
        if (rate.task_code, rate.driver) == ("lay", "floor_area")
        else rate
        for rate in STARTING_RATES
    ]
    counted = [
        quantity("floor_area", Decimal("40.83"), "as measured", zone="Hall"),
        quantity("pieces", Decimal(22), "counted", zone="Hall"),
        quantity("tear_out", Decimal(40), "as measured", zone="Hall", item="carpet"),
        quantity("casings", Decimal(2), "counted", zone="Hall"),
        quantity("rows", Decimal(7), "counted", zone="Hall"),
    ]
    site = SiteWork(crew_hours_per_day=Decimal(12), trip_hours=Decimal("1.5"), scheduled=False)
    work = work_from(counted, rates, site)
    zone = ScopeZone(name="Hall", rows=7, area_ft2=Decimal("40.83"), plan_sha256="a" * 64)
    return FrozenScope(zones=(zone,), quantities=work.quantities, tasks=work.tasks)


def said() -> dict[tuple[str, str, str], RateUsed]:
    return {rate.key: rate for rate in rates_said(an_older_scope())}


def test_hours_and_units_are_read_from_each_sentence() -> None:
    rates = said()
    lay = rates["lay", "floor_area", ""]
    assert (lay.hours, lay.per) == (Decimal("2.345678"), Decimal(100))
    pieces, casings = rates["lay", "pieces", ""], rates["undercut", "casings", ""]
    assert (pieces.hours, pieces.per) == (Decimal("0.01"), Decimal(1))
    assert (casings.hours, casings.per) == (Decimal("0.2"), Decimal(1))


def test_a_rate_of_one_old_floor_stays_of_that_floor() -> None:
    rate = said()["tear_out", "tear_out", "carpet"]
    assert (rate.hours, rate.per) == (Decimal("0.6"), Decimal(100))


def test_a_source_with_a_semicolon_or_brackets_ends_no_sentence() -> None:
    assert said()["lay", "pieces", ""].source == "common practice, no source"


def test_the_hours_come_out_as_they_were() -> None:
    older = an_older_scope()
    kept = {(rate.task, rate.driver, rate.item): rate for rate in rates_said(older)}
    lay = kept["lay", "floor_area", ""]
    hours = Decimal("40.83") / lay.per * lay.hours + 22 * kept["lay", "pieces", ""].hours
    assert hours.quantize(Decimal("0.01")) == older.task("lay:Hall").hours


def test_trip_and_crew_are_read_from_the_words_of_the_trips() -> None:
    older = an_older_scope()
    assert (trip_hours_said(older), crew_hours_said(older)) == (Decimal("1.5"), Decimal(12))


def test_a_scope_without_trips_says_no_crew() -> None:
    older = an_older_scope()
    tasks = tuple(task for task in older.tasks if task.code != "travel")
    alone = replace(older, tasks=tasks)
    assert (trip_hours_said(alone), crew_hours_said(alone)) == (None, None)


def test_work_that_no_sentence_speaks_of_has_todays_rate() -> None:
    today = [rate_used(replace(rate, hours=Decimal(9)), "2027-03-01") for rate in STARTING_RATES]
    rates = {rate.key: rate.hours for rate in said_over(today, rates_said(an_older_scope()))}
    assert rates["lay", "floor_area", ""] == Decimal("2.345678")
    assert rates["tear_out", "tear_out", "tile"] == 9
    assert rates["tear_out", "tear_out", "carpet"] == Decimal("0.6")
    assert rates["stairs", "treads", ""] == 9
