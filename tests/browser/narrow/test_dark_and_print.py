"""Main pages in the dark, and printed: everything can be read, and nothing runs off the sheet."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from django.conf import settings
from playwright.sync_api import Page
from pytest_django.live_server_helper import LiveServer

from tests.access_doors import TABLE
from tests.access_world import World, build_world
from tests.axe import axe_faults
from tests.browser.hands import Shoot
from tests.browser.narrow.test_every_page import STICKS_OUT
from tests.browser.narrow.test_long_names import PAGES
from tests.test_access_table import address

pytestmark = [
    pytest.mark.browser,
    pytest.mark.django_db(transaction=True),
    pytest.mark.xdist_group("every page"),
]

LETTER_PX = 664
"""Letter, 215.9 mm, less margins of 25 and 15 mm, at 96 px an inch."""
NOT_ON_PAPER = ".head, .foot, .path, .path-next, .actions, .pager, .skip"
IN_SIGHT = f"""() => [...document.querySelectorAll('{NOT_ON_PAPER}')]
    .filter((one) => one.checkVisibility()).map((one) => one.className)"""
GROUND = "() => getComputedStyle(document.documentElement).backgroundColor"


def opened(page: Page, live_server: LiveServer, world: World) -> Iterator[str]:
    """Open every main page as the owner, one after another, and yield what it is called."""
    cookie = world.browsers["owner"].cookies[settings.SESSION_COOKIE_NAME].value
    page.context.add_cookies([{"name": "sessionid", "value": cookie, "url": live_server.url}])
    for door in TABLE:
        if door.name in PAGES:
            page.goto(live_server.url + address(door, world))
            yield door.name


def test_axe_finds_nothing_on_main_pages_in_the_dark(
    page: Page, live_server: LiveServer, shoot: Shoot
) -> None:
    page.emulate_media(color_scheme="dark")
    faults = {}
    for name in opened(page, live_server, build_world()):
        shoot(page, f"dark-{name}")
        assert page.evaluate(GROUND) == "rgb(22, 25, 29)", name
        if seen := axe_faults(page):
            faults[name] = seen
    assert faults == {}


def test_main_pages_print_in_black_on_white_within_the_sheet(
    page: Page, live_server: LiveServer
) -> None:
    page.emulate_media(media="print", color_scheme="dark")
    page.set_viewport_size({"width": LETTER_PX, "height": 900})
    faults = {}
    for name in opened(page, live_server, build_world()):
        assert page.evaluate(GROUND) == "rgb(255, 255, 255)", name
        seen = [page.evaluate(STICKS_OUT), page.evaluate(IN_SIGHT)]
        if seen != [0, []]:
            faults[name] = seen
        assert page.get_by_role("heading", level=1).first.is_visible(), name
    assert faults == {}
