"""Planks of the last carton that are left: offered, tried by the worker, shown, taken."""

from __future__ import annotations

from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import FloorPlan, FloorZone, Product, User
from jobs.readers.floors.spending import offers_of
from jobs.readers.plan_request import whats_changed
from jobs.services.floors.floors import add_zone_of_room
from jobs.services.floors.spending import spending_errand
from jobs.services.plans import plan_zone_now
from jobs.worker.worker import carry_out_waiting
from tests.builders import make_job, make_product, make_room, make_zone
from tests.jobs.older import planned_before
from tests.jobs.plans import planned
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def product(owner: User) -> Product:
    """A plank of the company, ten in a carton."""
    assert owner.company
    return make_product(owner.company)


@pytest.fixture
def zone(product: Product) -> FloorZone:
    """A den of 100 by 90 in: 28 planks and 3 spare of 4 cartons, two H-joints."""
    den = make_room(make_job(product.company), size=(100, 90))
    return make_zone(den, product)


def now(zone: FloorZone) -> FloorZone:
    """Return the floor as it stands now."""
    return FloorZone.objects.get(pk=zone.pk)


def tried(visitor: Visitor, zone: FloorZone) -> str:
    """Return the page once what is left was tried."""
    visitor.post(reverse("zone-spend", args=[zone.pk]))
    carry_out_waiting()
    return words(visitor.get(reverse("zone-spend", args=[zone.pk])))


def take(visitor: Visitor, zone: FloorZone, **more: Any) -> Any:
    """Return the answer to taking what was tried."""
    form = {"key": "k9", "version": now(zone).version} | more
    return visitor.post(reverse("zone-spend-take", args=[zone.pk]), form)


def test_what_the_last_carton_leaves_is_offered_on_the_floors_page(
    visitor: Visitor, zone: FloorZone
) -> None:
    planned(zone)
    page = words(visitor.get(reverse("zone", args=[zone.pk])))
    assert "planks of the last carton are left." in page
    assert f'<a href="{reverse("zone-spend", args=[zone.pk])}">See what they buy</a>' in page


def test_nothing_is_offered_before_all_floors_of_the_product_are_planned(zone: FloorZone) -> None:
    planned(zone)
    other = make_zone(make_room(zone.job, name="Hall"), zone.product)
    assert offers_of(zone.job) == ()
    planned(other)
    assert zone in [offer.zone for offer in offers_of(zone.job)]


@pytest.mark.parametrize("change", [{"prefer": "cartons"}, {"start": "high"}])
def test_nothing_is_offered_of_a_floor_that_spends_or_was_changed_since(
    zone: FloorZone, change: dict[str, Any]
) -> None:
    planned(zone)
    FloorZone.objects.update(**change)
    assert offers_of(now(zone).job) == ()


def test_nothing_is_offered_of_a_plan_that_older_rules_made(zone: FloorZone) -> None:
    planned_before(zone)
    assert offers_of(zone.job) == ()


def test_before_and_after_are_shown_as_drawings(visitor: Visitor, zone: FloorZone) -> None:
    plan_zone_now(zone, effort_iterations=60)
    page = tried(visitor, zone)
    assert "Before: the plan as it stands" in page
    assert "After: the planks spent" in page
    assert page.count('class="drawing" color') == 2


def test_what_was_tried_becomes_the_floors_plan_once_it_is_taken(
    visitor: Visitor, zone: FloorZone
) -> None:
    before = plan_zone_now(zone, effort_iterations=100)
    tried(visitor, zone)
    answer = take(visitor, zone)
    plan = FloorPlan.objects.latest()
    assert answer.headers["Location"] == reverse("plan", args=[plan.pk])
    assert (plan.number, plan.cartons) == (before.number + 1, before.cartons)
    assert (now(zone).prefer, whats_changed(plan)) == ("cartons", "")


def test_taken_twice_it_is_one_plan(visitor: Visitor, zone: FloorZone) -> None:
    planned(zone)
    tried(visitor, zone)
    version = now(zone).version
    for _ in range(2):
        take(visitor, zone, version=version)
    assert FloorPlan.objects.count() == 2


def test_what_was_tried_of_the_floor_before_it_was_changed_is_not_taken(
    visitor: Visitor, zone: FloorZone
) -> None:
    planned(zone)
    tried(visitor, zone)
    FloorZone.objects.update(spares=4)
    planned(now(zone))
    take(visitor, zone)
    assert (now(zone).prefer, FloorPlan.objects.count()) == ("planks", 2)


def test_asked_twice_it_is_tried_once(visitor: Visitor, zone: FloorZone) -> None:
    planned(zone)
    for _ in range(2):
        visitor.post(reverse("zone-spend", args=[zone.pk]))
    errand = spending_errand(zone)
    assert errand is not None
    assert errand.is_active


def test_a_floor_with_nothing_left_leads_back_to_its_page(
    visitor: Visitor, zone: FloorZone
) -> None:
    answer = visitor.get(reverse("zone-spend", args=[zone.pk]))
    assert answer.headers["Location"] == reverse("zone", args=[zone.pk])


def test_the_only_floor_of_a_product_spends_what_is_left_by_itself(
    owner: User, product: Product
) -> None:
    job = make_job(product.company)
    rooms = [make_room(job, name=name) for name in ("Den", "Hall")]
    floors = [
        add_zone_of_room(room=room, product=product, user=owner, key=f"k-{room.pk}")
        for room in rooms
    ]
    assert [floor.prefer for floor in floors] == ["cartons", "planks"]
