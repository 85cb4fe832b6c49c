"""A floor whose product may not lie there is planned, and not priced."""

from __future__ import annotations

from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.domain.checks import BadValueError
from jobs.models import FloorZone, SiteFacts
from jobs.readers.floors.suitability import faults_by_floor, fitness_of
from jobs.readers.path import standings
from jobs.services.scope import work_out
from tests.builders import (
    make_company,
    make_job,
    make_person,
    make_plan,
    make_product,
    make_room,
    make_zone,
)
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def zone() -> FloorZone:
    """A small floor on a wood subfloor, of a product that only lies on a slab."""
    company = make_company()
    product = make_product(
        company,
        name="Larch",
        laid_over=["slab"],
        rule_sources={"laid_over": "sheet"},
        sheet_edition="3 of 2026",
    )
    zone = make_zone(make_room(make_job(company)), product)
    site(zone, tear_out=True, existing_floor="carpet")
    return zone


def site(zone: FloorZone, **facts: Any) -> None:
    """Note facts of the site."""
    SiteFacts.objects.filter(job=zone.job).update(**facts)


def signed_in(zone: FloorZone) -> Visitor:
    """Return the browser of the owner."""
    visitor = Visitor()
    visitor.force_login(make_person(zone.job.company))
    return visitor


@pytest.mark.parametrize(
    ("facts", "ground"),
    [
        ({"tear_out": True, "subfloor": "slab"}, ""),
        ({"tear_out": True, "subfloor": "wood"}, "a wood subfloor"),
        ({"tear_out": False, "existing_floor": "tile"}, "ceramic or stone tile"),
        ({"tear_out": False, "existing_floor": "none", "subfloor": "slab"}, ""),
    ],
)
def test_a_floor_lies_on_the_old_one_where_that_stays_else_on_the_subfloor(
    zone: FloorZone, facts: dict[str, Any], ground: str
) -> None:
    site(zone, **facts)
    said = f"Larch would lie over {ground}" if ground else ""
    assert [fault.text for fault in fitness_of(zone).faults] == ([said] if said else [])


def test_a_floor_has_the_faults_it_has_alone_also_among_others(zone: FloorZone) -> None:
    fit = make_zone(make_room(zone.job, "Hall"))
    elsewhere = make_zone(make_room(make_job(zone.job.company)), zone.product)
    zones = [zone, fit, elsewhere]
    together = faults_by_floor(zones)
    assert together == {one.pk: fitness_of(one).faults for one in zones}
    assert [len(together[one.pk]) for one in zones] == [1, 0, 0]


def test_what_is_down_is_not_known_until_somebody_looked(zone: FloorZone) -> None:
    site(zone, tear_out=False, existing_floor="unknown")
    assert "Not known yet: what the floor is laid over." in fitness_of(zone).notes


def test_the_page_of_the_floor_shows_the_fault_and_where_it_comes_from(zone: FloorZone) -> None:
    page = words(signed_in(zone).get(reverse("zone", args=[zone.pk])))
    assert "Larch would lie over a wood subfloor; accepted: over a concrete slab" in page
    assert "(Maker's sheet, 3 of 2026)" in page


def test_an_unfit_floor_is_planned_and_not_priced(zone: FloorZone) -> None:
    make_plan(zone)
    with pytest.raises(BadValueError, match="Larch would lie over a wood subfloor"):
        work_out(zone.job)


def test_the_price_page_says_what_would_be_accepted(zone: FloorZone) -> None:
    make_plan(zone)
    page = words(signed_in(zone).get(reverse("job-price", args=[zone.job.pk])))
    assert "Larch would lie over a wood subfloor" in page
    assert "over a concrete slab (Maker's sheet, 3 of 2026)" in page


def test_the_job_stands_at_its_floor_until_the_product_suits(zone: FloorZone) -> None:
    make_plan(zone)
    site(zone, year_built=1990)
    assert standings([zone.job]) == {zone.job.pk: "Floor"}
    site(zone, subfloor="slab")
    assert standings([zone.job]) != {zone.job.pk: "Floor"}


@pytest.mark.parametrize(
    ("method", "value", "faults"), [("rh", "85", 0), ("rh", "85.5", 1), ("mver", "86", 0)]
)
def test_a_reading_counts_against_the_limit_of_its_own_method(
    zone: FloorZone, method: str, value: str, faults: int
) -> None:
    type(zone.product).objects.update(laid_over=[], most_rh_pct=85)
    site(zone, readings=[{"method": method, "value": value, "where": "hall", "on": ""}])
    zone.refresh_from_db()
    assert len(fitness_of(zone).faults) == faults
