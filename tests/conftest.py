"""What every test may ask for: a browser as this project runs it, and pictures of pages."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import hypothesis
import pytest
import time_machine
from playwright.sync_api import Page
from pytest_django import DjangoDbBlocker

from tests.database import keep_made, take_kept
from tests.evening import EVENING

ROOT = Path(__file__).resolve().parent.parent
PHONE, DESK = 390, 1280

# How long one example takes says more about the machine than about the code. The rest stays as
# hypothesis chose it: under CI the same examples every time.
hypothesis.settings.register_profile("rowbook", hypothesis.settings(), deadline=None)
hypothesis.settings.load_profile("rowbook")

# The browser's driver runs an event loop in the test's own thread; the database is used from there.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "1"


@pytest.fixture(scope="session")
def django_db_keepdb(django_db_modify_db_settings: None, request: pytest.FixtureRequest) -> bool:
    """Whether the database is there already: kept by the option, or copied from a kept one."""
    return bool(request.config.getvalue("reuse_db")) or take_kept()


@pytest.fixture(scope="session")
def django_db_setup(django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> None:
    """Keep the database that the migrations made, for the next run."""
    with django_db_blocker.unblock():
        keep_made()


@pytest.fixture(scope="session")
def browser_type_launch_args() -> dict[str, Any]:
    """Return how to start Debian's Chromium: headless, quiet on the network, fit for root."""
    return {
        "executable_path": "/usr/bin/chromium",
        "headless": True,
        "args": [
            "--no-sandbox",
            "--disable-gpu",
            "--disable-quic",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
        ],
    }


@pytest.fixture
def shoot() -> Callable[[Page, str], None]:
    """Return a function that pictures the whole page at the width of a phone and of a desk.

    Pictures go to .var/shots, or to the folder that SHOTS names, as NAME-390.png and NAME-1280.png;
    the page keeps the size it had.
    """
    folder = Path(os.environ.get("SHOTS", ROOT / ".var" / "shots"))

    def take(page: Page, name: str) -> None:
        folder.mkdir(parents=True, exist_ok=True)
        before = page.viewport_size
        for width in (PHONE, DESK):
            page.set_viewport_size({"width": width, "height": 844})
            page.screenshot(path=folder / f"{name}-{width}.png", full_page=True)
        if before:
            page.set_viewport_size(before)

    return take


@pytest.fixture
def evening() -> Iterator[None]:
    """Let time stand at an evening that is one day in New York and the next in Auckland."""
    with time_machine.travel(EVENING, tick=False):
        yield
