"""A floor compared in other directions and products, and one of them taken."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.domain.checks import BadValueError
from jobs.models import Errand, FloorZone, Product, User
from jobs.services.floors.comparison import ask_to_compare, compared, comparison_of, directions_of
from jobs.services.plans import errand_of
from jobs.worker import worker
from tests.builders import make_job, make_product, make_room, make_zone
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def zone(owner: User) -> FloorZone:
    """A den of 60 by 49 in as a floor."""
    assert owner.company is not None
    return make_zone(make_room(make_job(owner.company)))


@pytest.fixture
def wide(zone: FloorZone) -> Product:
    """A wider board of the same company."""
    name, width = "Wide board", Decimal("228.6")
    return make_product(zone.job.company, name=name, width_mm=width)


def test_the_main_walls_give_the_directions(zone: FloorZone) -> None:
    assert directions_of(zone) == [0.0, 90.0]


def test_every_pair_is_planned_and_stands_in_the_table(
    zone: FloorZone, wide: Product, owner: User
) -> None:
    ask_to_compare(zone=zone, products=[zone.product, wide], directions=[0.0, 90.0], user=owner)
    worker.carry_out_waiting()
    rows = compared(comparison_of(zone))
    assert {(row.product, row.direction_deg) for row in rows} == {
        (product.pk, turn) for product in (zone.product, wide) for turn in (0.0, 90.0)
    }
    assert all(row.planks >= row.lower_bound > 0 and Decimal(row.hours) > 0 for row in rows)
    assert [row.cartons for row in rows] == sorted(row.cartons for row in rows)


def test_what_cannot_be_planned_says_why(zone: FloorZone, owner: User) -> None:
    stiff = make_product(zone.job.company, name="Stiff board", gap_mm=Decimal("762"))
    ask_to_compare(zone=zone, products=[stiff], directions=[0.0], user=owner)
    worker.carry_out_waiting()
    (row,) = compared(comparison_of(zone))
    assert row.refused.startswith("Expansion gap: 30 can't be used; accepted: 0 to 6.")


def test_more_than_eight_plans_are_refused(zone: FloorZone, owner: User) -> None:
    with pytest.raises(BadValueError, match="9; accepted: 1 to 8"):
        ask_to_compare(zone=zone, products=[zone.product], directions=list(range(9)), user=owner)


def test_an_empty_choice_is_told_at_the_field(visitor: Visitor, zone: FloorZone) -> None:
    answer = visitor.post(reverse("zone-compare", args=[zone.pk]), {"directions": ["0"]})
    assert answer.status_code == 422
    assert "No product is marked; accepted: one or more." in words(answer)


def test_a_choice_is_taken_and_planned_in_full(
    visitor: Visitor, zone: FloorZone, wide: Product
) -> None:
    sent = {"key": "k" * 20, "version": zone.version, "product": wide.pk, "direction": "90.0"}
    visitor.post(reverse("zone-take", args=[zone.pk]), sent)
    zone.refresh_from_db()
    assert zone.product == wide
    assert zone.direction_deg == 90
    errand = errand_of(zone)
    assert errand is not None
    assert errand.state == Errand.State.WAITING


def test_a_floor_that_is_begun_is_not_compared(visitor: Visitor, zone: FloorZone) -> None:
    FloorZone.objects.update(going_on={"plan": 1, "laid": ["1-1"], "planks": 9, "gone": []})
    page = words(visitor.get(reverse("zone-compare", args=[zone.pk]), follow=True))
    assert "accepted: a floor of which nothing is down yet" in page
    sent = {"key": "k" * 20, "version": 1, "product": zone.product_id, "direction": "90"}
    page = words(visitor.post(reverse("zone-take", args=[zone.pk]), sent, follow=True))
    assert "Rows are down: they hold the direction and the product." in page
    zone.refresh_from_db()
    assert zone.direction_deg == 0


def test_the_page_shows_the_table(visitor: Visitor, zone: FloorZone) -> None:
    sent = {"products": [zone.product_id], "directions": ["90"]}
    visitor.post(reverse("zone-compare", args=[zone.pk]), sent)
    worker.carry_out_waiting()
    page = words(visitor.get(reverse("zone-compare", args=[zone.pk])))
    assert f"Plan {zone.product.name} at 90°" in page
