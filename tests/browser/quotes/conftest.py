"""Who writes a quote by hand: the owner of a company of which only the name is known."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page
from pytest_django import Settings
from pytest_django.live_server_helper import LiveServer

from jobs.models import User
from tests.browser.conftest import hands_of
from tests.browser.hands import Shoot
from tests.browser.typist import Typist
from tests.builders import make_company, make_person


@pytest.fixture
def blank_owner() -> User:
    """The owner of a company of which only the name is known."""
    company = make_company("Fernwood Floors", address="", phone="")
    return make_person(company, name="Mara Quill")


@pytest.fixture
def typist(
    blank_owner: User, page: Page, live_server: LiveServer, shoot: Shoot, settings: Settings
) -> Typist:
    """That owner's hands, signed in, on an empty Home."""
    settings.SITE_URL = live_server.url
    hands = hands_of(blank_owner, page, live_server, shoot)
    hands.open("/")
    return Typist(hands=hands)
