"""Hands on the pages: what a person types and clicks, and the picture of every page passed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from playwright.sync_api import Locator, Page, expect

from tests.axe import axe_faults
from tests.conftest import DESK, PHONE, settle

Shoot = Callable[[Page, str], None]

FOLDS_AT = 640
"""At this width and below the path is one line, which opens."""


@dataclass(kw_only=True)
class Hands:
    """A person at the book: opens pages, fills fields by their labels, presses what is named."""

    page: Page
    base: str
    shoot: Shoot
    clicks: int = 0

    def open(self, path: str) -> None:
        """Go to an address as typed."""
        self.page.goto(self.base + path)

    def see(self, name: str) -> None:
        """Take the picture of the page that is open; nothing may stick out sideways."""
        self.shoot(self.page, name)
        self.fits(name)

    def fits(self, name: str) -> None:
        """See that nothing sticks out sideways at the width that the page has."""
        wide = "document.documentElement.scrollWidth > document.documentElement.clientWidth"
        assert not self.page.evaluate(wide), f"{name} is wider than its window"

    def fill(self, **fields: str) -> None:
        """Type into fields by their names."""
        for name, value in fields.items():
            self._ready(self.page.locator(f"[name={name}]")).fill(value)

    def choose(self, **fields: str) -> None:
        """Choose from lists by the words shown."""
        for name, label in fields.items():
            self._ready(self.page.locator(f"select[name={name}]")).select_option(label=label)

    def tick(self, label: str) -> None:
        """Tick the box with this label."""
        self._ready(self.page.get_by_label(label)).check()
        self.clicks += 1

    def press(self, name: str) -> None:
        """Press the button or follow the link with this name, and wait for a page it leads to."""
        self._named(name).first.click()
        self.page.wait_for_load_state("domcontentloaded")
        self.clicks += 1

    def step(self, name: str) -> None:
        """Go to a step of the job's path."""
        path = self.page.get_by_role("navigation", name="Path of the job")
        size = self.page.viewport_size
        if size and size["width"] <= FOLDS_AT:
            path.locator("details:not([open]) > summary").click()
        path.get_by_role("link").filter(has_text=name).first.click()
        self.page.wait_for_load_state("domcontentloaded")
        self.clicks += 1

    def settle(self) -> None:
        """Wait until no part of the page is asked for or being put in its place."""
        settle(self.page)

    def expect(self, text: str) -> None:
        """Wait until the page says this."""
        expect(self.page.get_by_role("main")).to_contain_text(text)

    def _ready(self, field: Locator) -> Locator:
        """Wait until a field is there and its page's scripts have run, so that they hear of it."""
        field.wait_for(state="attached")
        self.page.wait_for_load_state("load")
        return field

    def _named(self, name: str) -> Locator:
        buttons = self.page.get_by_role("button", name=name, exact=True)
        return buttons.or_(self.page.get_by_role("link", name=name, exact=True))


def look_at(hands: Hands, name: str) -> None:
    """Picture the page at both sizes; nothing sticks out at either, axe finds nothing."""
    hands.see(name)
    for width in (PHONE, DESK):
        hands.page.set_viewport_size({"width": width, "height": 844})
        settle(hands.page)
        hands.fits(name)
        assert axe_faults(hands.page) == [], f"{name} at {width}"
