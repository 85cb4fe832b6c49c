"""A person at mouse and keys whose every click and key is counted, and timed by a known model."""

from __future__ import annotations

import time
from dataclasses import dataclass

from playwright.sync_api import Locator, Page

from tests.browser.hands import Hands, look_at

KEY_SECONDS, POINT_SECONDS, HOME_SECONDS, THINK_SECONDS = 0.28, 1.1, 0.4, 1.35
"""Operator times of the keystroke-level model (Card, Moran, Newell 1980) for an average typist who
is no secretary; from memory: a key 0.28 s, a pointing 1.1 s with its click of 0.2 s counted as a
key, a hand moved to the mouse or back 0.4 s, a thought 1.35 s."""

ANSWER_SECONDS = 1.0
"""How long a page is waited for: our own guess, the model takes it from the machine."""


@dataclass(kw_only=True)
class Typist:
    """Hands that only click and type; every field is clicked first.

    ``inside``: the part of the page (a CSS selector) where fields are looked for; ``shots``: what
    the pictures of the walk begin with; without it pages that another walk looks at are passed by.
    """

    hands: Hands
    keys: int = 0
    clicks: int = 0
    fields: int = 0
    pages: int = 0
    waited: float = 0
    inside: str = "body"
    shots: str = ""

    @property
    def page(self) -> Page:
        return self.hands.page

    def _field(self, name: str) -> Locator:
        return self.page.locator(f"{self.inside} [name={name}]")

    def types(self, name: str, text: str) -> None:
        """Click into a field, mark what stands in it, and type over it key by key."""
        field = self._field(name)
        field.click()
        if field.input_value():
            self.page.keyboard.press("Control+A")
            self.keys += 2
        self.page.keyboard.type(text)
        self.keys += len(text)
        self.clicks += 1
        self.fields += 1

    def fills(self, **texts: str) -> None:
        """Type into fields by their names, one after the other."""
        for name, text in texts.items():
            self.types(name, text)

    def picks(self, name: str, label: str) -> None:
        """Choose from a list: a click that opens it, one that chooses."""
        self._field(name).select_option(label=label)
        self.clicks += 2
        self.fields += 1

    def ticks(self, label: str) -> None:
        """Tick a box, or mark one of several."""
        self.page.locator(self.inside).get_by_label(label, exact=True).check()
        self.clicks += 1

    def presses(self, name: str) -> None:
        """Press the button of this name that can be seen."""
        self.page.get_by_role("button", name=name, exact=True).locator("visible=true").click()
        self.clicks += 1

    def follows(self, name: str) -> None:
        """Press the button or follow the link of this name to the next page."""
        self.hands.press(name)
        self.clicks += 1
        self.pages += 1

    def steps(self, name: str) -> None:
        """Go to a step of the job's path."""
        self.hands.step(name)
        self.clicks += 1
        self.pages += 1

    def looks_at(self, name: str) -> None:
        """Look at the page as a walk passes it, or only wait for it where another one looks."""
        if self.shots:
            look_at(self.hands, f"{self.shots}-{name}")
        else:
            self.hands.settle()

    def waits(self, since: float) -> None:
        """Count the time since a moment as waited for the machine, as it was measured."""
        self.waited += time.monotonic() - since

    @property
    def seconds(self) -> float:
        """The time that an average person needs for what was done, by the model.

        A thought before every click; a hand goes to the mouse and back for a field.
        """
        pointing = self.clicks * (POINT_SECONDS + KEY_SECONDS + THINK_SECONDS)
        typing = self.keys * KEY_SECONDS + 2 * self.fields * HOME_SECONDS
        return pointing + typing + self.pages * ANSWER_SECONDS + self.waited

    def summary(self, what: str) -> str:
        """Return what was counted, in a line."""
        counted = f"{self.fields} fields, {self.clicks} clicks, {self.keys} keys"
        waits = f"{self.pages} pages, {self.waited:.0f} s waited for the worker"
        return f"{what}: {counted}, {waits}: {self.seconds:.0f} s by the model"
