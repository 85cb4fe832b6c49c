"""Cartons counted with a thumb; what the last carton leaves, in a browser."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, Page

from jobs.models import FloorZone, User
from jobs.services.plans import plan_zone_now
from jobs.worker.worker import carry_out_waiting
from tests.browser.hands import Hands, look_at
from tests.builders import make_job, make_product, make_room, make_zone
from tests.jobs.older import planned_before

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


def count(page: Page, name: str, planks: int) -> None:
    """Press the plus beside a pile so many times."""
    for _ in range(planks):
        page.get_by_role("button", name=f"One more: {name} wide").click()


def test_a_minus_stops_at_none(hands: Hands, owner: User) -> None:
    assert owner.company
    product = make_product(owner.company, variants={"A": 6, "B": 4})
    zone = make_zone(make_room(make_job(owner.company)), product)
    hands.open(f"/floors/{zone.pk}/piles")
    count(hands.page, 'A, 7"', 2)
    for _ in range(3):
        hands.page.get_by_role("button", name='One fewer: A, 7" wide').click()
    assert hands.page.locator("[name=pile_0]").input_value() == "0"


def test_plus_and_minus_are_of_a_thumbs_size(hands: Hands, owner: User) -> None:
    assert owner.company
    product = make_product(owner.company, variants={"A": 6, "B": 4})
    zone = make_zone(make_room(make_job(owner.company)), product)
    hands.page.set_viewport_size({"width": 390, "height": 844})
    hands.open(f"/floors/{zone.pk}/piles")
    boxes = [one.bounding_box() for one in hands.page.locator("[data-by]").all()]
    assert len(boxes) == 4
    assert all(box and min(box["width"], box["height"]) >= 44 for box in boxes)


def test_without_scripts_piles_are_number_fields(
    hands: Hands, owner: User, browser: Browser
) -> None:
    assert owner.company
    product = make_product(owner.company, variants={"A": 6, "B": 4})
    zone = make_zone(make_room(make_job(owner.company)), product)
    plain = browser.new_context(java_script_enabled=False)
    plain.add_cookies(hands.page.context.cookies())  # type: ignore[arg-type]
    page = plain.new_page()
    page.goto(f"{hands.base}/floors/{zone.pk}/piles")
    assert not page.locator("[data-by]").first.is_visible()
    page.locator("[name=pile_0]").fill("12")
    page.get_by_role("button", name="Save the piles").click()
    assert FloorZone.objects.get().piles[0]["planks"] == 12
    plain.close()


def test_what_the_last_carton_leaves_is_looked_at_and_taken(hands: Hands, owner: User) -> None:
    assert owner.company
    product = make_product(owner.company)
    zone = make_zone(make_room(make_job(owner.company), size=(100, 90)), product)
    plan_zone_now(zone, effort_iterations=60)
    hands.open(f"/floors/{zone.pk}")
    hands.expect("9 planks of the last carton are left.")
    hands.press("See what they buy")
    hands.press("See what they buy")
    hands.expect("Trying what they buy")
    carry_out_waiting()
    hands.expect("After: the planks spent")
    hands.settle()
    look_at(hands, "63-planks-left")
    hands.press("Take the plan after")
    hands.expect("The planks are spent; this is the floor's plan now.")
    look_at(hands, "64-planks-spent")


def test_a_plan_of_older_rules_is_looked_at(hands: Hands, owner: User) -> None:
    assert owner.company
    plan = planned_before(make_zone(make_room(make_job(owner.company))))
    hands.open(f"/plans/{plan.pk}")
    hands.expect("Planned under older rules")
    look_at(hands, "65-older-plan")
