"""Who works at the pages: the owner of a company, at a browser of their own."""

from __future__ import annotations

import pytest
from django.test import Client as Browser
from playwright.sync_api import Page
from pytest_django.live_server_helper import LiveServer

from jobs.models import User
from tests.browser.hands import Hands, Shoot
from tests.builders import make_company, make_person


@pytest.fixture
def owner() -> User:
    """The owner of a company."""
    return make_person(make_company("Fernwood Floors"), name="Mara Quill")


@pytest.fixture
def hands(page: Page, live_server: LiveServer, shoot: Shoot, owner: User) -> Hands:
    """An owner's hands, signed in."""
    return hands_of(owner, page, live_server, shoot)


def hands_of(owner: User, page: Page, live_server: LiveServer, shoot: Shoot) -> Hands:
    """Sign somebody in at this browser."""
    signed_in = Browser()
    signed_in.force_login(owner)
    cookie = signed_in.cookies["sessionid"].value
    page.context.add_cookies([{"name": "sessionid", "value": cookie, "url": live_server.url}])
    return Hands(page=page, base=live_server.url, shoot=shoot)
