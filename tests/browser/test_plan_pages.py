"""A plan and what is measured before it: every page at both sizes, without a fault of access."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page
from pytest_django.live_server_helper import LiveServer

from jobs.models import FloorPlan, FloorZone, SiteFacts
from jobs.services.plans import plan_zone_now
from jobs.worker import worker
from tests.browser.hands import Hands, Shoot, look_at
from tests.builders import (
    PASSWORD,
    make_company,
    make_job,
    make_person,
    make_product,
    make_room,
    make_zone,
)

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def zone() -> FloorZone:
    """A den of 148 by 118 in on a slab, as a floor."""
    job = make_job(make_company("Fernwood Floors"))
    SiteFacts.objects.filter(job=job).update(subfloor="slab")
    product = make_product(job.company, name="Larch", most_rh_pct=85)
    return make_zone(make_room(job, name="Den", size=(148, 118)), product)


@pytest.fixture
def plan(zone: FloorZone) -> FloorPlan:
    """A plan of it."""
    return plan_zone_now(zone)


@pytest.fixture
def hands(page: Page, live_server: LiveServer, shoot: Shoot, zone: FloorZone) -> Hands:
    """The hands of the owner, signed in."""
    owner = make_person(zone.job.company)
    hands = Hands(page=page, base=live_server.url, shoot=shoot)
    hands.open("/sign-in")
    hands.fill(username=owner.email, password=PASSWORD)
    hands.press("Sign in")
    return hands


def test_a_plan_is_read_by_anyone(hands: Hands, plan: FloorPlan) -> None:
    hands.open(f"/plans/{plan.pk}")
    hands.expect("Hand check")
    look_at(hands, "80-plan")
    hands.open(f"/plans/{plan.pk}?row=2&piece=3-1")
    hands.expect("Row 2")
    hands.expect("Piece 3-1")
    look_at(hands, "81-plan-row-and-piece")
    hands.open(f"/plans/{plan.pk}/cuts")
    hands.expect("The start wall")
    look_at(hands, "82-plan-cuts")


def test_the_floor_and_its_comparison_are_read_by_anyone(hands: Hands, plan: FloorPlan) -> None:
    hands.open(f"/floors/{plan.zone_id}")
    look_at(hands, "83-floor")
    hands.open(f"/floors/{plan.zone_id}/compare")
    look_at(hands, "84-compare")
    hands.press("Compare them")
    worker.carry_out_waiting()
    hands.open(f"/floors/{plan.zone_id}/compare")
    hands.expect("Plan Larch at 90°")
    look_at(hands, "85-compared")
    hands.press("Plan Larch at 90°")
    hands.expect("Planning the floor")


def test_depths_and_moisture_are_noted_by_anyone(hands: Hands, zone: FloorZone) -> None:
    (room,) = zone.rooms.all()
    hands.open(f"/rooms/{room.pk}/depths")
    hands.page.get_by_label("Along the first wall").first.fill("4'")
    hands.page.get_by_label("Square to it").first.fill("3'")
    hands.page.get_by_label("Low by").first.fill('3/8"')
    hands.press("Save the depths")
    hands.expect("The depths are noted.")
    look_at(hands, "86-depths")
    hands.open(f"/jobs/{zone.job_id}/moisture")
    hands.fill(value="88", where="by the slider")
    hands.press("Note the reading")
    hands.expect("over the product's limit")
    look_at(hands, "87-moisture")
    hands.open(f"/jobs/{zone.job_id}/site")
    look_at(hands, "88-site")
