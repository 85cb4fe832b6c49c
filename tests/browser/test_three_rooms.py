"""Four rooms walked wall by wall, joined through their doorways, planned as one floor.

        +-----------+
        |  bedroom  |            the hall opens to the bedroom over its whole width
        +--+  +-----+
+-----+ |  |  |
| den |----   |  +--------+     doorways of 32 in in walls of 4 1/2 in
+-----+ | hall ----| living |
        +-----+  +--------+
"""

from __future__ import annotations

from dataclasses import dataclass

import pytest
from django.test import Client as Browser
from playwright.sync_api import Page, expect
from pytest_django.live_server_helper import LiveServer
from shapely.geometry import Polygon

from jobs.domain.floors.join import zone_area
from jobs.models import Errand, FloorZone, Room, User
from jobs.readers.floors.floors import zone_of
from jobs.worker.worker import carry_out_waiting
from tests.browser.hands import Hands, Shoot
from tests.builders import make_company, make_job, make_person, make_product

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

# The floor as one outline, in inches.
OUTLINE = (
    *((0, 0), (132, 0), (132, 38), (136.5, 38), (136.5, 30), (178.5, 30), (178.5, 52), (183, 52)),
    *((183, 0), (300, 0), (300, 118), (183, 118), (183, 84), (178.5, 84), (178.5, 190)),
    *((240, 190), (240, 300), (96, 300), (96, 190), (136.5, 190), (136.5, 70), (132, 70)),
    *((132, 118), (0, 118)),
)
ROOMS = {
    "Den": ("132", "118", "132", "118"),
    "Living": ("117", "118", "117", "118"),
    "Bedroom": ("144", "110", "144", "110"),
    "Hall": ("42", "160", "42", "160"),
}


@dataclass(frozen=True, kw_only=True)
class Gap:
    """An opening of the hall: wall and place there, the room beyond, wall and place in that."""

    wall: int
    offset: str
    beyond: str
    beyond_wall: str
    beyond_offset: str
    open_end: bool = False


GAPS = (
    Gap(wall=4, offset="120", beyond="Den", beyond_wall="2", beyond_offset="38"),
    Gap(wall=2, offset="22", beyond="Living", beyond_wall="4", beyond_offset="34"),
    Gap(
        wall=3,
        offset="0",
        beyond="Bedroom",
        beyond_wall="1",
        beyond_offset="40.5",
        open_end=True,
    ),
)


@dataclass(kw_only=True)
class Counting(Hands):
    """Hands whose keystrokes are counted, choices from lists as two clicks."""

    strokes: int = 0

    def keys(self, *texts: str) -> None:
        """Type texts, each with Enter after it."""
        for text in texts:
            self.page.keyboard.type(text)
            self.page.keyboard.press("Enter")
            self.strokes += len(text) + 1

    def fill(self, **fields: str) -> None:
        """Type into fields by their names: a click and the text each."""
        super().fill(**fields)
        self.clicks += len(fields)
        self.strokes += sum(map(len, fields.values()))

    def choose(self, **fields: str) -> None:
        """Choose from lists by the words shown."""
        super().choose(**fields)
        self.clicks += 2 * len(fields)


@pytest.fixture
def hands(page: Page, live_server: LiveServer, shoot: Shoot) -> Counting:
    """An owner's hands, signed in, on the rooms of a job; one product is taken down."""
    owner = make_person(make_company("Fernwood Floors"), name="Mara Quill")
    assert owner.company is not None
    job = make_job(owner.company)
    make_product(owner.company, name="Slate Oak plank")
    _sign_in(page, live_server.url, owner)
    hands = Counting(page=page, base=live_server.url, shoot=shoot)
    hands.open(f"/jobs/{job.pk}/rooms")
    return hands


def _sign_in(page: Page, url: str, owner: User) -> None:
    browser = Browser()
    browser.force_login(owner)
    cookie = browser.cookies["sessionid"].value
    page.context.add_cookies([{"name": "sessionid", "value": cookie, "url": url}])


def walk_the_rooms(hands: Counting) -> None:
    """Each room wall by wall, by keys alone once its page is open."""
    hands.press("Add a room")
    for name, walls in ROOMS.items():
        hands.page.wait_for_load_state("networkidle")
        hands.fill(name=name)
        hands.keys("", "", *walls)
        expect(hands.page.locator("#drawing")).to_contain_text("ft²")
        hands.see(f"three-rooms-{name.lower()}")
        hands.keys("", "")
        hands.expect(f"{name} is in the book.")
        if name != "Hall":
            hands.press("Add the next room")
            hands.expect("New room")


def open_the_doorways(hands: Counting) -> None:
    """The hall's three openings, each with its place in the room beyond."""
    for gap in GAPS:
        hands.press("Add a doorway")
        hands.page.locator("select[name=wall]").select_option(index=gap.wall - 1)
        hands.choose(beyond=gap.beyond)
        hands.clicks += 2
        if gap.open_end:
            hands.choose(kind="Opening without a door")
            hands.fill(width="42", depth="0", casings="0")
        hands.fill(offset=gap.offset, beyond_wall=gap.beyond_wall)
        hands.fill(beyond_offset=gap.beyond_offset)
        hands.choose(treatment="Planks run through")
        hands.settle()
        hands.see(f"three-rooms-doorway-{gap.beyond.lower()}")
        hands.press("Save the doorway")
        hands.expect("The doorway is in the book.")


def join_and_plan(hands: Counting) -> FloorZone:
    """The rooms as one floor, planned by the worker."""
    hands.step("Floor")
    hands.press("Join rooms as one floor")
    hands.fill(name="Ground floor", direction="0")
    hands.choose(product="Slate Oak plank")
    for name in ROOMS:
        hands.tick(name)
    hands.press("Save the floor")
    hands.expect("Plan the floor")
    hands.see("three-rooms-floor")
    hands.press("Plan the floor")
    hands.expect("Planning the floor")
    carry_out_waiting()
    assert list(Errand.objects.values_list("state", "error")) == [("done", "")]
    expect(hands.page.get_by_role("main")).to_contain_text("In the plan", timeout=60_000)
    hands.see("three-rooms-planned")
    return FloorZone.objects.get()


def test_three_rooms_and_a_hall_are_walked_joined_and_planned(hands: Counting) -> None:
    walk_the_rooms(hands)
    assert Room.objects.count() == len(ROOMS)
    open_the_doorways(hands)
    zone = join_and_plan(hands)
    area = Polygon(OUTLINE).area
    assert zone_area(zone_of(zone)) == pytest.approx(area, rel=0.001)
    hands.expect(f"{area / 144:.0f}\u00a0ft²")
    print(f"\n{hands.strokes} keystrokes, {hands.clicks} clicks")  # noqa: T201
    assert hands.strokes + hands.clicks < 300
