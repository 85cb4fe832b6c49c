"""No page is widened by names as long as their fields take, be they one word, nor by emptiness."""

from __future__ import annotations

from collections.abc import Iterable

import pytest
from django.conf import settings
from django.db.models import Model
from django.test import Client as Visitor
from django.urls import reverse
from playwright.sync_api import Page
from pytest_django.live_server_helper import LiveServer

from jobs.models import Client, Company, Crew, FloorZone, Job, Product, Role, Room, User
from tests.access_doors import TABLE
from tests.access_world import build_world
from tests.browser.narrow.test_every_page import OWNER, PHONE, STICKS_OUT, ZOOMED
from tests.builders import make_company, make_person
from tests.test_access_table import address

pytestmark = [
    pytest.mark.browser,
    pytest.mark.django_db(transaction=True),
    pytest.mark.xdist_group("every page"),
]

LONGEST = 200
NAMED: tuple[tuple[type[Model], str], ...] = (
    *((Client, "name"), (Job, "title"), (Job, "address"), (Room, "name"), (FloorZone, "name")),
    *((Product, "name"), (Crew, "name"), (User, "name"), (Company, "name")),
)
"""What people call things, with the field."""
PAGES = frozenset(
    [
        "job-list",
        "job",
        "room-list",
        "zone-list",
        "zone",
        "plan",
        "job-price",
        "quote-draft",
        "job-quotes",
        "quote",
        "job-days",
        "day",
        "log-add",
        "job-log",
        "job-review",
        "client-list",
        "day-list",
        "packet-list",
    ]
)
DESK = 1280


WORDS, ONE_WORD = "Example name ", "Examplename"
"""What a name repeats: with a space in it the name has words, else it is one."""


def name_all(repeated: str) -> None:
    """Give everything a name that repeats this, as long as its field takes."""
    for model, field in NAMED:
        for row in model._default_manager.all():
            most = min(
                getattr(model._meta.get_field(field), "max_length", None) or LONGEST, LONGEST
            )
            end = f"{row.pk:03}"
            text = repeated * LONGEST
            model._default_manager.filter(pk=row.pk).update(
                **{field: text[: most - len(end)] + end}
            )


def sideways(page: Page, visitor: Visitor, live_server: LiveServer, urls: Iterable[str]) -> object:
    """Return by how much pages stick out of a phone, of a desk at 200 %, and of a desk."""
    cookie = visitor.cookies[settings.SESSION_COOKIE_NAME].value
    page.context.add_cookies([{"name": "sessionid", "value": cookie, "url": live_server.url}])
    wide = {}
    for url in urls:
        page.goto(live_server.url + url)
        for width in (PHONE, ZOOMED, DESK):
            page.set_viewport_size({"width": width, "height": 844})
            if (by := page.evaluate(STICKS_OUT)) > 0:
                wide[url, width] = by
    return wide


@pytest.mark.parametrize("repeated", [WORDS, ONE_WORD], ids=["of words", "one word"])
def test_names_of_200_characters_widen_no_page(
    page: Page, live_server: LiveServer, repeated: str
) -> None:
    world = build_world()
    name_all(repeated)
    urls = [address(door, world) for door in TABLE if door.name in PAGES]
    assert len(urls) == len(PAGES)
    assert sideways(page, world.browsers["owner"], live_server, urls) == {}


def test_a_company_without_a_job_has_pages_that_fit(page: Page, live_server: LiveServer) -> None:
    owner = make_person(make_company(), Role.OWNER)
    visitor = Visitor()
    visitor.force_login(owner)
    urls = [reverse(door.name) for door in TABLE if not door.row and door.get[OWNER] == "k"]
    pages = [url for url in urls if is_page(visitor, url)]
    assert len(pages) > 10
    assert sideways(page, visitor, live_server, pages) == {}


def is_page(visitor: Visitor, url: str) -> bool:
    """Whether an address answers with a page, where nothing was typed yet."""
    return str(visitor.get(url).headers.get("Content-Type", "")).startswith("text/html")
