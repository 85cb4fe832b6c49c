"""The risers of a flight after the floor, against the published limits."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from jobs.domain.openings.stairs import Flight, difference_in, risers_after
from jobs.domain.site.cautions import cautions_for
from jobs.domain.site.facts import Caution, VisitFacts
from jobs.models import StairFlight
from jobs.readers.openings.stairs import stair_takes
from jobs.readers.site import cautions_of
from tests.builders import make_company, make_job, make_product, make_room, make_zone


def flight(*risers: str, **more: Any) -> Flight:
    """A flight with these risers, nothing coming up but what is told."""
    heights = {name: Decimal(value) for name, value in more.items()}
    return Flight(name="Main stair", risers_in=tuple(map(Decimal, risers)), **heights)


def cautions(*flights: Flight) -> dict[str, Caution]:
    """The cautions of a house of 1999 with these flights."""
    facts = VisitFacts(year_built=1999, existing_floor="none", stairs=flights)
    return {caution.code: caution for caution in cautions_for(facts)}


def test_a_floor_laid_below_only_takes_its_height_off_the_first_riser() -> None:
    after = risers_after(flight("7.5", "7.5", "7.5", below_up_in="0.625"))
    assert after == (Decimal("6.875"), Decimal("7.5"), Decimal("7.5"))


def test_treads_that_come_up_raise_the_first_riser_and_lower_the_last() -> None:
    after = risers_after(flight("7.5", "7.5", "7.5", treads_up_in="0.75"))
    assert after == (Decimal("8.25"), Decimal("7.5"), Decimal("6.75"))


def test_a_flight_that_comes_up_as_a_whole_keeps_its_risers() -> None:
    whole = flight("7.5", "7.4", treads_up_in="0.5", below_up_in="0.5", above_up_in="0.5")
    assert risers_after(whole) == (Decimal("7.5"), Decimal("7.4"))


def test_a_single_riser_lies_between_the_two_floors() -> None:
    assert risers_after(flight("7", below_up_in="0.5", above_up_in="0.25")) == (Decimal("6.75"),)


@pytest.mark.parametrize(("last", "code"), [("7.5", None), ("7.75", None), ("7.751", "risers")])
def test_risers_may_differ_by_three_eighths(last: str, code: str | None) -> None:
    # IRC 2021 R311.7.5.1: greatest less smallest riser of a flight, 3/8 in.
    warned = cautions(flight("7.375", "7.5", last))
    assert ("risers" in warned) == (code is not None)


def test_five_eighths_of_new_floor_at_one_end_of_a_flight_is_too_much() -> None:
    uneven = flight("7.5", "7.5", "7.5", below_up_in="0.625")
    assert difference_in(uneven) == Decimal("0.625")
    assert cautions(uneven)["risers"].severity == "hold"
    assert "Main stair, 0.625 in" in cautions(uneven)["risers"].text


@pytest.mark.parametrize(("riser", "warns"), [("7.75", False), ("7.76", True)])
def test_a_riser_is_at_most_seven_and_three_quarters(riser: str, warns: bool) -> None:
    # IRC 2021 R311.7.5.1.
    assert ("riser-height" in cautions(flight(riser))) == warns


@pytest.mark.parametrize(("tread", "warns"), [("10", False), ("9.99", True)])
def test_a_tread_is_at_least_ten_inches(tread: str, warns: bool) -> None:
    # IRC 2021 R311.7.5.2.
    assert ("tread-depth" in cautions(flight("7.5", tread_in=tread))) == warns


def test_two_flights_are_not_compared_with_each_other() -> None:
    low, high = flight("7", "7"), Flight(name="Porch", risers_in=(Decimal("7.5"), Decimal("7.5")))
    assert "risers" not in cautions(low, high)


def test_a_flight_without_risers_asks_for_them() -> None:
    assert cautions(flight())["risers-unmeasured"].severity == "note"


def test_the_limit_says_that_the_code_of_the_place_decides() -> None:
    assert "the code of the place decides" in cautions(flight("8"))["riser-height"].text


@pytest.mark.django_db
def test_a_flight_is_covered_from_the_floor_of_its_product() -> None:
    job = make_job(make_company())
    zone = make_zone(make_room(job))
    other = make_product(job.company)
    stairs = {"job": job, "treads": 12, "riser_boards": 13, "nosings": 13, "width_mm": 914}
    StairFlight.objects.create(name="Main", product=zone.product, **stairs)
    StairFlight.objects.create(name="Attic", product=other, **stairs)
    assert [take.name for take in stair_takes(job, [zone])] == ["Main"]


@pytest.mark.django_db
def test_the_risers_of_a_row_reach_the_cautions_of_its_job() -> None:
    job = make_job(make_company())
    fields = {"name": "Main", "width_mm": 914, "risers": ['7 1/2"', '7 1/2"']}
    StairFlight.objects.create(job=job, below_raised_mm=Decimal("15.875"), **fields)
    assert "risers" in {caution.code for caution in cautions_of(job)}
