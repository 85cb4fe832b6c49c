"""What every test may ask for: a browser as this project runs it, and pictures of pages."""

from __future__ import annotations

import gc
import hashlib
import os
from collections.abc import Callable, Iterator
from functools import lru_cache
from pathlib import Path
from typing import Any

import hypothesis
import pytest
import time_machine
from django.conf import settings
from playwright.sync_api import Page, expect
from pytest_django import DjangoDbBlocker

from tests.database import keep_made, take_kept
from tests.evening import EVENING
from tests.house.together import scheduler_of
from tests.migrating import tables_of_today

ROOT = Path(__file__).resolve().parent.parent
PHONE, DESK = 390, 1280
# Debian's browser without a window, or the whole one where that is all there is.
BROWSERS = [Path("/usr/bin/chromium-headless-shell"), Path("/usr/bin/chromium")]
# Lettering is there, and what was last changed is on the screen.
DRAWN = """() => document.fonts.ready.then(() => new Promise(
    (done) => requestAnimationFrame(() => requestAnimationFrame(() => done()))))"""

# Where others use the machine too, an answer takes longer than the five seconds of old.
expect.set_options(timeout=20_000)

# How long one example takes says more about the machine than about the code. The rest stays as
# hypothesis chose it: under CI the same examples every time.
hypothesis.settings.register_profile("rowbook", hypothesis.settings(), deadline=None)
hypothesis.settings.load_profile("rowbook")

# The browser's driver runs an event loop in the test's own thread; the database is used from there.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "1"


@pytest.fixture(scope="session")
def django_db_modify_db_settings(django_db_modify_db_settings: None) -> None:
    """Give a connection back with each answer: a browser left open would keep that of its thread.

    A cluster for tests takes sixty of them, which a run of the whole suite would use up.
    """
    for config in settings.DATABASES.values():
        config["CONN_MAX_AGE"] = 0


@pytest.fixture(scope="session")
def django_db_keepdb(django_db_modify_db_settings: None, request: pytest.FixtureRequest) -> bool:
    """Whether the database is there already: kept by the option, or copied from a kept one."""
    return bool(request.config.getvalue("reuse_db")) or take_kept()


def pytest_xdist_make_scheduler(config: pytest.Config, log: object) -> object:
    """Let one process run all that looks at one kept book."""
    return scheduler_of(config, log)


def pytest_collection_finish() -> None:
    """Search for garbage seldom, and never among what is loaded by now: it stays to the end."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 20, 20)


@pytest.fixture(scope="session")
def one_layout_a_text() -> Iterator[None]:
    """Lay out a paper once in a run: of the same text the renderer makes the same paper again."""
    from jobs import pdf

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(pdf, "_laid_out", lru_cache(maxsize=200)(pdf._laid_out))
        yield


@pytest.fixture
def set_paper() -> None:
    """Ask for papers as they are printed, where tests else do without (`unset_paper`)."""


@pytest.fixture
def unset_paper(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Write papers without setting them in type, which takes a second each: for tests of rows.

    What stands in for a paper is no PDF, and another one for another text. A test that reads a
    paper asks for `set_paper`.
    """
    if "set_paper" in request.fixturenames:
        return
    from jobs import pdf

    def unset(html: str, last: str) -> tuple[bytes, int]:
        return b"Not set: " + hashlib.sha256(html.encode()).hexdigest().encode(), 1

    monkeypatch.setattr(pdf, "_laid_out", unset)


@pytest.fixture(scope="session")
def django_db_setup(
    django_db_setup: None, one_layout_a_text: None, django_db_blocker: DjangoDbBlocker
) -> None:
    """Keep the database that the migrations made, for the next run."""
    with django_db_blocker.unblock():
        keep_made()


@pytest.fixture(scope="module")
def there_and_back(django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> Iterator[None]:
    """Leave the tables of today to the tests of other modules."""
    yield
    with django_db_blocker.unblock():
        tables_of_today()


@pytest.fixture(scope="session")
def browser_type_launch_args() -> dict[str, Any]:
    """Return how to start Debian's Chromium: headless, quiet on the network, fit for root."""
    there = next((path for path in BROWSERS if path.exists()), BROWSERS[-1])
    return {
        "executable_path": str(there),
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


def settle(page: Page) -> None:
    """Wait until the page is loaded and drawn, and no part of it is asked for or being put in."""
    page.wait_for_load_state("load")
    busy = ".htmx-request, .htmx-swapping, .htmx-settling, .htmx-added"
    expect(page.locator(busy)).to_have_count(0)
    page.evaluate(DRAWN)


@pytest.fixture
def shoot() -> Callable[[Page, str], None]:
    """Return a function that waits for the page and pictures it, if pictures are wanted.

    They are where SHOTS names a folder for them: the whole page at the width of a phone and of a
    desk, as NAME-390.png and NAME-1280.png; the page keeps the size it had.
    """
    wanted = os.environ.get("SHOTS")
    folder = Path(wanted or ROOT / ".var" / "shots")

    def take(page: Page, name: str) -> None:
        settle(page)
        if not wanted:
            return
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
