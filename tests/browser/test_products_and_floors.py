"""Products, floors put together, rules, breaks and what is left: in a browser, at both sizes."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from playwright.sync_api import Page
from pytest_django.live_server_helper import LiveServer

from jobs.domain.floors.join import zone_area
from jobs.models import Doorway, FloorZone, Job, SiteFacts
from jobs.readers.floors.floors import zone_of
from tests.browser.hands import Hands, Shoot, look_at
from tests.builders import (
    PASSWORD,
    make_company,
    make_crew,
    make_day,
    make_doorway,
    make_job,
    make_log_entry,
    make_person,
    make_plan,
    make_product,
    make_room,
    make_zone,
)

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

INCH = Decimal("25.4")


@pytest.fixture
def job() -> Job:
    """A job without rooms, on a slab that is damp, its old carpet torn out."""
    job = make_job(make_company("Fernwood Floors"))
    readings = [{"method": "rh", "value": "88", "where": "hall", "on": "2026-11-20"}]
    facts = {"existing_floor": "carpet", "tear_out": True, "subfloor": "slab"}
    SiteFacts.objects.filter(job=job).update(**facts, readings=readings)
    return job


@pytest.fixture
def hands(page: Page, live_server: LiveServer, shoot: Shoot, job: Job) -> Hands:
    """The hands of the owner, signed in."""
    owner = make_person(job.company)
    hands = Hands(page=page, base=live_server.url, shoot=shoot)
    hands.open("/sign-in")
    hands.fill(username=owner.email, password=PASSWORD)
    hands.press("Sign in")
    return hands


def rooms_of(job: Job) -> None:
    """Measure a hall, a den above its middle and a closet at its end, each doorway named."""
    hall = make_room(job, name="Hall", size=(160, 42))
    den = make_room(job, name="Den", size=(132, 118))
    closet = make_room(job, name="Closet", size=(34, 30))
    depth: dict[str, Any] = {"depth_mm": Decimal("114.3"), "width_mm": 32 * INCH}
    make_doorway(hall, wall=2, offset_mm=60 * INCH, beyond=den, **depth)
    make_doorway(den, wall=0, offset_mm=20 * INCH, beyond=hall, **depth)
    make_doorway(hall, wall=0, offset_mm=10 * INCH, beyond=closet, **depth)


def test_a_hall_and_two_rooms_are_one_floor_after_one_save(hands: Hands, job: Job) -> None:
    make_product(job.company, name="Larch", most_rh_pct=85)
    rooms_of(job)
    hands.open(f"/jobs/{job.pk}/floor/add")
    look_at(hands, "52-floor-new")
    hands.press("Save the floor")
    hands.expect("The product may not lie here")
    look_at(hands, "53-floor-unfit")
    area = 160 * 42 + 132 * 118 + 34 * 30 + 2 * 32 * 4.5
    assert zone_area(zone_of(FloorZone.objects.get())) == pytest.approx(area)


def test_what_was_not_measured_is_proposed_and_taken_with_one_click(hands: Hands, job: Job) -> None:
    make_product(job.company, name="Larch")
    rooms_of(job)
    Doorway.objects.filter(room__name="Den").delete()
    Doorway.objects.filter(beyond__name="Den").update(offset_mm=20 * INCH)
    hands.open(f"/jobs/{job.pk}/floor/add")
    hands.press("Save the floor")
    hands.expect("The likeliest wall stands in the fields")
    look_at(hands, "54-place-asked")
    hands.press("Set all as proposed")
    hands.expect("Rules of this floor")
    assert not Doorway.objects.filter(beyond_wall__isnull=True).exists()


def test_rules_of_a_floor_a_break_and_what_is_left_are_set_by_hand(hands: Hands, job: Job) -> None:
    product = make_product(job.company, name="Larch", max_run_mm=2000, both_ways=True)
    zone = make_zone(make_room(job, size=(60, 49)), product)
    make_plan(zone)
    crew = make_crew(job.company, make_person(job.company, "crew"))
    make_log_entry(
        make_day(job, crew), crew.members.get(), task="lay", zone="Den", row_from=1, row_to=3
    )
    hands.open(f"/floors/{zone.pk}/rules")
    hands.fill(gap_mm="3/8")
    look_at(hands, "55-floor-rules")
    hands.press("Save the rules")
    hands.expect("Set for this floor")
    hands.press("Plan what is left")
    hands.expect("rows 1 to 3 of 7 are down")
    hands.fill(planks="9")
    look_at(hands, "56-what-is-left")
    hands.press("Save what is down")
    hands.expect("What is down is noted.")
    look_at(hands, "57-floor-begun")


def test_a_floor_that_runs_too_far_is_broken_with_one_click(hands: Hands, job: Job) -> None:
    zone = make_zone(
        make_room(job, size=(150, 100)), make_product(job.company, max_run_mm=200 * INCH)
    )
    parlor = make_room(job, name="Parlor", size=(150, 100), zone=zone, place_x_mm=154 * INCH)
    sizes = {"offset_mm": 30 * INCH, "width_mm": 32 * INCH, "depth_mm": 4 * INCH}
    far = {"beyond_wall": 3, "beyond_offset_mm": 38 * INCH}
    make_doorway(zone.rooms.get(name="Den"), wall=1, beyond=parlor, **sizes, **far)
    hands.open(f"/floors/{zone.pk}")
    look_at(hands, "58-floor-too-far")
    hands.press("Break at this doorway")
    hands.expect("Parlor is a floor of its own now.")
