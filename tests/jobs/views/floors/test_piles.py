"""Counting open cartons on a floor's page: saved, refused, planned from."""

from __future__ import annotations

from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import FloorZone, Product, User
from jobs.readers.plan_request import request_of, whats_changed
from jobs.readers.stored_plan import stored_plan
from jobs.services.floors.floors import change_zone
from jobs.services.floors.rules import set_going_on
from jobs.services.plans import plan_zone_now
from tests.builders import make_job, make_product, make_room, make_zone
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def zone(owner: User) -> FloorZone:
    """A den of 60 by 49 in, its plank in two shades: six A and four B in a carton."""
    assert owner.company
    product = make_product(owner.company, variants={"A": 6, "B": 4})
    return make_zone(make_room(make_job(owner.company)), product)


def sent(zone: FloorZone, *counts: object, **more: Any) -> dict[str, Any]:
    """Return the form of the piles with these counts, in their order."""
    piles = {f"pile_{place}": count for place, count in enumerate(counts)}
    return {"key": "k1", "version": zone.version, "cartons": ""} | piles | more


def post(visitor: Visitor, zone: FloorZone, *counts: object, **more: Any) -> Any:
    """Return the answer to the form of the piles."""
    return visitor.post(reverse("zone-piles", args=[zone.pk]), sent(zone, *counts, **more))


def now(zone: FloorZone) -> FloorZone:
    """Return the floor as it stands now."""
    return FloorZone.objects.get(pk=zone.pk)


def test_every_pile_has_a_number_field(visitor: Visitor, zone: FloorZone) -> None:
    page = words(visitor.get(reverse("zone-piles", args=[zone.pk])))
    assert '<input type="number" name="pile_0"' in page
    assert '<input type="number" name="pile_1"' in page
    assert '7" wide <span class="muted">10 in a carton</span>' in page


def test_piles_that_were_counted_are_what_the_floor_is_planned_from(
    visitor: Visitor, zone: FloorZone
) -> None:
    post(visitor, zone, 8, 6)
    assert request_of(now(zone))["on_hand"]["piles"] == [
        {"length": 48.0, "width": 7.0, "variant": "A", "planks": 8},
        {"length": 48.0, "width": 7.0, "variant": "B", "planks": 6},
    ]


def test_a_plan_of_counted_piles_lays_no_shade_that_is_not_there(
    visitor: Visitor, zone: FloorZone
) -> None:
    post(visitor, zone, 14, "")
    plan = plan_zone_now(now(zone), effort_iterations=20)
    page = words(visitor.get(reverse("plan", args=[plan.pk])))
    assert "9 planks and 3 spare, 14 whole ones at hand" in page


def test_piles_that_can_not_cover_the_floor_are_told_by_width_and_shade(
    visitor: Visitor, zone: FloorZone
) -> None:
    post(visitor, zone, 3, 1)
    plan = plan_zone_now(now(zone), effort_iterations=20)
    page = words(visitor.get(reverse("plan", args=[plan.pk])))
    short = stored_plan(plan).plan.totals.short_piles
    assert {pile.variant for pile in short} <= {"A", "B"}
    for pile in short:
        assert f'of {pile.variant}, 7" wide' in page
    assert "3 spare of any pile" in page


def test_counting_outdates_the_plan_before_it(visitor: Visitor, zone: FloorZone) -> None:
    plan = plan_zone_now(zone, effort_iterations=5)
    post(visitor, zone, 8, 6)
    plan.zone = now(zone)
    assert whats_changed(plan) == "Changed since this plan: what is at hand."


def test_all_piles_empty_is_planned_by_the_carton_again(visitor: Visitor, zone: FloorZone) -> None:
    post(visitor, zone, 8, 6)
    post(visitor, now(zone), "", "0", key="k2")
    assert "on_hand" not in request_of(now(zone))


def test_piles_of_whole_cartons_add_up(visitor: Visitor, zone: FloorZone) -> None:
    assert post(visitor, zone, 12, 8, cartons="2").status_code == 303


@pytest.mark.parametrize(
    ("counts", "more", "sentence"),
    [
        (
            (12, 7),
            {"cartons": "2"},
            '19 boards 7" wide were counted in 2 cartons; accepted: 20, or no number of cartons.',
        ),
        ((-1, 4), {}, "-1 can't be used; accepted: a whole number from 0 to 20000."),
        (("ten", 4), {}, "“ten” can't be used; accepted: a whole number from 0 to 20000."),
    ],
)
def test_piles_that_can_not_be_are_refused_at_their_field(
    visitor: Visitor, zone: FloorZone, counts: tuple[object, ...], more: Any, sentence: str
) -> None:
    answer = post(visitor, zone, *counts, **more)
    assert answer.status_code == 422
    assert sentence in words(answer)
    assert now(zone).piles == []


def test_a_count_that_somebody_overtook_is_told_so(visitor: Visitor, zone: FloorZone) -> None:
    post(visitor, zone, 8, 6)
    assert post(visitor, zone, 9, 6, key="k2").status_code == 409


def test_what_is_counted_stands_on_the_page_of_the_floor(visitor: Visitor, zone: FloorZone) -> None:
    post(visitor, zone, 8, 6)
    page = words(visitor.get(reverse("zone", args=[zone.pk])))
    assert "14 whole planks in 2 piles" in page
    assert f'href="{reverse("zone-piles", args=[zone.pk])}">Count the open cartons</a>' in page


def test_boards_that_all_look_alike_are_not_sorted(visitor: Visitor, zone: FloorZone) -> None:
    Product.objects.update(variants={})
    page = words(visitor.get(reverse("zone", args=[zone.pk])))
    assert "Count the open cartons" not in page


def test_piles_counted_before_rows_were_noted_are_no_longer_there(
    visitor: Visitor, zone: FloorZone, owner: User
) -> None:
    post(visitor, zone, 8, 6)
    plan = plan_zone_now(now(zone), effort_iterations=5)
    noted: dict[str, Any] = {"plan": plan, "laid": ["1-1"], "planks": 11, "gone": ()}
    set_going_on(zone=now(zone), user=owner, key="k3", expected=now(zone).version, **noted)
    assert now(zone).piles == []


def test_a_floor_of_another_product_has_no_piles_yet(
    visitor: Visitor, zone: FloorZone, owner: User
) -> None:
    post(visitor, zone, 8, 6)
    other = make_product(zone.job.company)
    rooms, version = zone.rooms.all(), now(zone).version
    values = {"product": other}
    change_zone(zone=now(zone), user=owner, key="k4", expected=version, values=values, rooms=rooms)
    assert now(zone).piles == []
