"""Who walks the loop: the owner at a desk; the lead and the homeowner at phones of their own."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page
from pytest_django import Settings
from pytest_django.live_server_helper import LiveServer

from jobs.models import User
from tests.browser.conftest import hands_of
from tests.browser.hands import Hands, Shoot
from tests.browser.typist import Typist
from tests.builders import make_company, make_person
from tests.conftest import PHONE


@pytest.fixture
def typist(page: Page, live_server: LiveServer, shoot: Shoot, settings: Settings) -> Typist:
    """The owner of a company of which only the name is known, on an empty Home."""
    settings.SITE_URL = live_server.url
    boss: User = make_person(
        make_company("Fernwood Floors", address="", phone=""), name="Mara Quill"
    )
    hands = hands_of(boss, page, live_server, shoot)
    hands.open("/")
    return Typist(hands=hands)


@pytest.fixture
def lead(typist: Typist) -> Hands:
    """A phone at which nobody is signed in, in the crew's hands; no script runs at it."""
    return a_phone(typist.hands, scripts=False)


@pytest.fixture
def homeowner(typist: Typist) -> Hands:
    """A phone at which nobody is signed in, in the homeowner's hands."""
    return a_phone(typist.hands)


def a_phone(beside: Hands, *, scripts: bool = True) -> Hands:
    """A phone of somebody else, with cookies of its own."""
    chromium = beside.page.context.browser
    assert chromium is not None
    context = chromium.new_context(
        viewport={"width": PHONE, "height": 844}, java_script_enabled=scripts
    )
    page = context.new_page()
    return Hands(page=page, base=beside.base, shoot=beside.shoot)
