"""Planks left over: kept by product and lot, at hand for one floor, not bought for it."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from estimates.models import Purchase, PurchaseOf
from estimates.services import purchases
from jobs.domain.checks import BadValueError
from jobs.models import FloorZone, Job, LeftoverStock, User
from jobs.readers.floors.stock import stock_for
from jobs.readers.plan_request import request_value, whats_changed
from jobs.services.floors.floors import FIELDS
from jobs.services.floors.stock import give_back_stock, take_stock
from jobs.services.scope import work_out
from tests.builders import make_planned_job, make_product
from tests.estimates.a_job import an_owner, company_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner() -> User:
    return an_owner()


@pytest.fixture
def zone(owner: User) -> FloorZone:
    """A planned floor of another job than the one that left planks over."""
    return make_planned_job(company_of(owner)).zones.get()


def keep(job: Job, owner: User, quantity: str, unit: str, key: str = "keep") -> Purchase:
    values: dict[str, object] = {
        "kind": PurchaseOf.KEPT,
        "code": "cartons",
        "label": "Flooring",
        "unit": unit,
    }
    values |= {"quantity": Decimal(quantity), "amount": 0, "bought_on": date(2027, 3, 1)}
    values |= {"product": job.zones.get().product, "lot": "A12", "supplier": "", "note": ""}
    return purchases.add_purchase(job=job, user=owner, key=key, values=values)


def stock_of(
    zone: FloorZone, owner: User, quantity: str = "7", unit: str = "plank"
) -> LeftoverStock:
    row = keep(zone.job, owner, quantity, unit).stock
    assert row is not None
    return row


def cartons(zone: FloorZone) -> Decimal:
    work = work_out(Job.objects.get(pk=zone.job_id))
    return sum((q.amount for q in work.quantities if q.code == "cartons"), Decimal(0))


def test_a_carton_kept_is_as_many_planks(zone: FloorZone, owner: User) -> None:
    row = stock_of(zone, owner, "2", "carton")
    assert (row.planks, row.lot) == (2 * zone.product.carton_boards, "A12")


def test_a_floor_of_its_product_is_offered_them(zone: FloorZone, owner: User) -> None:
    row = stock_of(zone, owner)
    assert stock_for(zone).free == (row,)
    zone.product = make_product(company_of(owner))
    assert stock_for(zone).free == ()


def test_what_is_taken_is_at_hand_and_not_bought(zone: FloorZone, owner: User) -> None:
    before, plan = cartons(zone), zone.plans.get()
    row = stock_of(zone, owner, str(zone.product.carton_boards))
    take_stock(stock=row, zone=zone, user=owner)
    take_stock(stock=row, zone=zone, user=owner)
    zone = FloorZone.objects.get(pk=zone.pk)
    request = request_value(zone)
    assert request.on_hand is not None
    assert request.on_hand.planks == zone.product.carton_boards
    assert cartons(zone) == before - 1
    assert "what is at hand" in whats_changed(plan.__class__.objects.get(pk=plan.pk))
    assert stock_for(zone).taken == (LeftoverStock.objects.get(),)


def test_what_is_given_back_is_bought_again(zone: FloorZone, owner: User) -> None:
    before = cartons(zone)
    row = stock_of(zone, owner, str(zone.product.carton_boards))
    give_back_stock(stock=take_stock(stock=row, zone=zone, user=owner), user=owner)
    assert FloorZone.objects.get(pk=zone.pk).stock_planks == 0
    assert cartons(zone) == before


def test_two_floors_never_have_the_same_planks(zone: FloorZone, owner: User) -> None:
    row = take_stock(stock=stock_of(zone, owner), zone=zone, user=owner)
    other = make_planned_job(company_of(owner)).zones.get()
    other.product = zone.product
    other.save()
    with pytest.raises(BadValueError, match="kept for"):
        take_stock(stock=row, zone=other, user=owner)


def test_planks_of_another_product_are_refused(zone: FloorZone, owner: User) -> None:
    row = stock_of(zone, owner)
    other = make_planned_job(company_of(owner)).zones.get()
    if other.product_id == zone.product_id:
        other.product = make_product(company_of(owner))
        other.save()
    with pytest.raises(BadValueError, match="with which the floor is laid"):
        take_stock(stock=row, zone=other, user=owner)


def test_a_floor_that_is_begun_says_itself_what_is_at_hand(zone: FloorZone, owner: User) -> None:
    row = stock_of(zone, owner)
    zone.going_on = {"plan": 1, "laid": [], "planks": 3, "gone": []}
    with pytest.raises(BadValueError, match="begun"):
        take_stock(stock=row, zone=zone, user=owner)


def test_planks_that_a_floor_has_are_not_struck_out(zone: FloorZone, owner: User) -> None:
    purchase = keep(zone.job, owner, "7", "plank")
    assert purchase.stock is not None
    take_stock(stock=purchase.stock, zone=zone, user=owner)
    with pytest.raises(BadValueError, match="give them back"):
        purchases.remove_purchase(purchase=Purchase.objects.get(), user=owner)
    assert LeftoverStock.objects.exists()


def test_less_than_a_plank_is_refused(zone: FloorZone, owner: User) -> None:
    with pytest.raises(BadValueError, match="1 plank or more"):
        keep(zone.job, owner, "0.5", "plank")


def test_the_count_is_saved_with_the_floor() -> None:
    assert "stock_planks" in FIELDS
