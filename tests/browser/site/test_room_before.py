"""What was in a room, told in a browser: on a phone and a desk, by keyboard alone, axe clean."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from jobs.models import Room, SiteFacts, User
from tests.browser.hands import Hands, look_at
from tests.builders import make_job, make_room, make_run

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

IN = Decimal("25.4")


@pytest.fixture
def den(owner: User) -> Room:
    """A den of a house of 1968, with 20 ft of base that comes off."""
    assert owner.company is not None
    job = make_job(owner.company)
    facts = {"year_built": 1968, "existing_floor": "carpet", "tear_out": True}
    SiteFacts.objects.filter(job=job).update(**facts)
    den = make_room(job, "Den", (144, 120), base="reinstall")
    make_run(den, length_mm=240 * IN)
    return den


def test_a_room_is_told_by_keyboard_alone(hands: Hands, den: Room) -> None:
    hands.open(reverse("room-before", args=[den.pk]))
    look_at(hands, "room-before")
    page = hands.page
    page.locator("[name=old_floor]").focus()
    page.keyboard.type("Sheet")
    page.keyboard.press("Tab")
    page.keyboard.type("2999")
    page.keyboard.press("Enter")
    expect(page.locator("#form-errors")).to_contain_text("2999 lies ahead")
    expect(page.locator("[name=old_floor_year]")).to_have_value("2999")
    look_at(hands, "room-before-refused")
    page.locator("[name=old_floor_year]").fill("1970")
    page.keyboard.press("Enter")
    hands.expect("What was in Den is noted.")
    den.refresh_from_db()
    assert (den.old_floor, den.old_floor_year) == ("resilient", 1970)
