"""Doorways, stairs and trim in a browser: what follows shows while typing; nobody is shut out."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from jobs.models import Doorway, Room, SiteFacts, TrimRun, User
from jobs.services.trim import derive_trim
from tests.browser.hands import Hands, look_at
from tests.builders import (
    make_doorway,
    make_job,
    make_room,
    make_stair,
    make_zone,
)
from tests.conftest import DESK, PHONE

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

INCH = Decimal("25.4")


@pytest.fixture
def room(owner: User) -> Room:
    """A den of 14 by 10 ft with a floor, new base and an appliance; an accessible route passes."""
    assert owner.company is not None
    job = make_job(owner.company)
    SiteFacts.objects.filter(job=job).update(accessible_route=True)
    room = make_room(job, size=(168, 120), base="replace", appliance_clear_mm=Decimal(6))
    make_zone(room)
    doorway = {"offset_mm": 40 * INCH, "width_mm": 32 * INCH, "beyond_kind": "tile"}
    tight = {"clearance_mm": INCH / 2, "step_mm": INCH * 3 / 4, "treatment": "threshold"}
    make_doorway(room, beyond_floor="Bath, tile", **doorway, **tight)
    derive_trim(job=job)
    return room


def test_what_follows_is_shown_while_figures_are_typed(hands: Hands, room: Room) -> None:
    hands.open(reverse("doorway-add", args=[room.pk]))
    hands.page.wait_for_load_state("networkidle")
    hands.choose(beyond_kind="Ceramic or stone tile")
    hands.fill(offset="10'", beyond_high="5/8")
    expect(hands.page.locator("#proposal")).to_contain_text("Reducer")
    hands.fill(clearance="1/2")
    expect(hands.page.locator("#proposal")).to_contain_text("trim")
    look_at(hands, "doorway-typed")
    hands.press("Save the doorway")
    hands.expect("The doorway is in the book")
    assert Doorway.objects.latest("pk").treatment == "reducer"


FIELDS_BEFORE_THE_ANSWER = """() => {
  const answer = document.querySelector('#proposal');
  return [...document.querySelectorAll('#doorway-form :is(input, select, textarea)')]
    .filter(one => one.type !== 'hidden' && one.checkVisibility())
    .filter(one => one.compareDocumentPosition(answer) & Node.DOCUMENT_POSITION_FOLLOWING)
    .map(one => one.name);
}"""


@pytest.mark.parametrize("width", [PHONE, DESK])
def test_five_fields_stand_before_a_doorways_first_answer(
    hands: Hands, room: Room, width: int
) -> None:
    """Nothing but these five is filled, and both floors are drawn with the strip between them."""
    hands.page.set_viewport_size({"width": width, "height": 844})
    hands.open(reverse("doorway-add", args=[room.pk]))
    hands.page.wait_for_load_state("networkidle")
    fields = hands.page.evaluate(FIELDS_BEFORE_THE_ANSWER)
    assert fields == ["wall", "offset", "width", "beyond_kind", "beyond_high"]
    hands.choose(wall="Wall 1, 14' 0\"", beyond_kind="Ceramic or stone tile")
    hands.fill(offset="10'", width="32", beyond_high="5/8")
    answer = hands.page.locator("#proposal")
    expect(answer.get_by_role("heading", level=2)).to_have_text("Reducer")
    drawn = answer.locator("figure svg")
    expect(drawn).to_contain_text("reducer", ignore_case=True)
    expect(drawn).to_contain_text('Tile stands ⅜" up')


def test_nothing_is_wrong_with_the_pages_of_doorways_and_trim(hands: Hands, room: Room) -> None:
    doorway, run = Doorway.objects.get(), TrimRun.objects.filter(room=room, wall=1).get()
    TrimRun.objects.filter(pk=run.pk).update(edited=True, length_mm=run.length_mm - 50)
    pages = {
        "doorway": reverse("doorway-edit", args=[doorway.pk]),
        "room-trim": reverse("room-trim", args=[room.pk]),
        "trim-run": reverse("trim-run", args=[run.pk]),
        "job-trim": reverse("job-trim", args=[room.job_id]),
        "treatments": reverse("treatments"),
    }
    for name, path in pages.items():
        hands.open(path)
        look_at(hands, name)


def test_nothing_is_wrong_with_the_pages_of_stairs(hands: Hands, room: Room) -> None:
    stair = make_stair(room.job, risers=['7 1/2"'] * 12 + ['6 3/4"'], above_raised_mm=INCH / 4)
    pages = {
        "stair": reverse("stair-edit", args=[stair.pk]),
        "stair-new": reverse("stair-add", args=[room.job_id]),
        "rooms-with-edges": reverse("room-list", args=[room.job_id]),
    }
    for name, path in pages.items():
        hands.open(path)
        look_at(hands, name)


def test_risers_are_checked_while_they_are_typed(hands: Hands, room: Room) -> None:
    hands.open(reverse("stair-add", args=[room.job_id]))
    hands.page.wait_for_load_state("networkidle")
    hands.fill(width="36", risers="7 1/2, 7 1/2, 7 1/2", below_raised="5/8")
    expect(hands.page.locator("#risers")).to_contain_text("Uneven risers")
