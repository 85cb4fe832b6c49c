"""No page is wider than a phone of 320 px, nor than a desk at 200 % zoom (WCAG 2.2, 1.4.10)."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from django.conf import settings
from playwright.sync_api import Page
from pytest_django.live_server_helper import LiveServer

from tests.access_doors import TABLE
from tests.access_world import World, build_world
from tests.test_access_table import ROLES, address

pytestmark = [
    pytest.mark.browser,
    pytest.mark.django_db(transaction=True),
    pytest.mark.xdist_group("every page"),
]

PHONE, ZOOMED = 320, 640
"""The smallest phone, and half of 1280 px: what a desk has at 200 %."""
OWNER = ROLES.index("owner")
STICKS_OUT = "document.documentElement.scrollWidth - document.documentElement.clientWidth"


def pages_of(world: World) -> Iterator[tuple[str, str]]:
    """Yield name and address of every page that the owner may open; no files, no data."""
    browser = world.browsers["owner"]
    for door in TABLE:
        if door.get[OWNER] != "k":
            continue
        url = address(door, world)
        if browser.get(url).headers.get("Content-Type", "").startswith("text/html"):
            yield door.name, url


def test_no_page_scrolls_sideways_at_320_px_or_at_200_percent(
    page: Page, live_server: LiveServer
) -> None:
    world = build_world()
    cookie = world.browsers["owner"].cookies[settings.SESSION_COOKIE_NAME].value
    page.context.add_cookies([{"name": "sessionid", "value": cookie, "url": live_server.url}])
    wide = {}
    for name, url in list(pages_of(world)):
        page.goto(live_server.url + url)
        assert page.url == live_server.url + url, f"{name} led elsewhere"
        for width in (PHONE, ZOOMED):
            page.set_viewport_size({"width": width, "height": 844})
            if (by := page.evaluate(STICKS_OUT)) > 0:
                wide[name, width] = by
    assert wide == {}
