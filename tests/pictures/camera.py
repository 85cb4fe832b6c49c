"""Pages as pictures by Debian's Chromium, papers as pictures by PDFium."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pypdfium2
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright
from playwright.sync_api import TimeoutError as TooSlowError

from tests.pictures import HOST, MOMENT

TALL = 844
PATIENCE_MS = 90_000
"""So long a page may take on a machine that does other work as well."""
PAPER_SCALE = 1.5  # of 72 pixels an inch
# Lettering and whatever a script still asks for or puts in its place.
SETTLED = """() => document.fonts.ready.then(() => !document.querySelector(
    '.htmx-request, .htmx-swapping, .htmx-settling, .htmx-added'))"""

# What sticks to the edge of the window lies where it belongs, instead of over a field.
LOOSENED = """() => [...document.querySelectorAll('body *')]
    .filter((one) => getComputedStyle(one).position === 'sticky')
    .forEach((one) => { one.style.position = 'relative'; one.style.inset = 'auto'; })"""


@contextmanager
def browser(port: int) -> Iterator[Browser]:
    """Hand over a browser that finds the pictured site under its name."""
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(
            executable_path="/usr/bin/chromium",
            args=[
                "--no-sandbox",
                "--disable-gpu",
                "--no-first-run",
                "--disable-background-networking",
                "--disable-component-update",
                "--disable-sync",
                "--force-color-profile=srgb",
                "--font-render-hinting=none",
                # Without these two, rounded corners are smoothed a shade otherwise now and then.
                "--disable-lcd-text",
                "--disable-partial-raster",
                f"--host-resolver-rules=MAP {HOST}:80 127.0.0.1:{port}",
            ],
        )
        yield opened
        opened.close()


class Camera:
    """A browser window a width, signed in by the cookies of a visitor, on the pictured day."""

    def __init__(self, opened: Browser, cookies: dict[str, str]) -> None:
        self._context: BrowserContext = opened.new_context(
            base_url=f"http://{HOST}",
            locale="en-US",
            timezone_id="America/New_York",
            reduced_motion="reduce",
            # A kept page would be shown where the site's own is to be seen.
            service_workers="block",
        )
        self._context.set_default_timeout(PATIENCE_MS)
        self._context.clock.set_fixed_time(MOMENT)
        for name, value in cookies.items():
            self._context.add_cookies([{"name": name, "value": value, "url": f"http://{HOST}"}])
        self._pages: dict[int, Page] = {}

    def shoot(self, path: str, width: int, file: Path) -> bool:
        """Leave the picture of a whole page at a width; return whether it came in time.

        A page that does not come is taken once more, in a new window.
        """
        for _ in range(2):
            try:
                self._shoot(path, width, file)
            except TooSlowError:
                self._pages.pop(width).close()
            else:
                return True
        return False

    def _shoot(self, path: str, width: int, file: Path) -> None:
        """Leave the picture of a whole page at a width, nothing in it covered."""
        page = self._page(width, path)
        page.goto(path)
        page.wait_for_function(SETTLED)
        page.evaluate(LOOSENED)
        page.screenshot(path=file, full_page=True, animations="disabled")

    def close(self) -> None:
        """Close its windows."""
        self._context.close()

    def _page(self, width: int, path: str) -> Page:
        """Return the window of a width.

        A new one opens a page once before: until the lettering is at hand, lists are drawn with
        other letters and stay a pixel off.
        """
        if width not in self._pages:
            page = self._pages[width] = self._context.new_page()
            page.set_viewport_size({"width": width, "height": TALL})
            page.goto(path)
            page.wait_for_function(SETTLED)
        return self._pages[width]


def shoot_paper(paper: Path) -> list[Path]:
    """Leave a picture of every page of a PDF beside it, and return them in order."""
    pictures = []
    document = pypdfium2.PdfDocument(paper)
    for number, page in enumerate(document, 1):
        picture = paper.with_name(f"{paper.stem}-page-{number:02}.png")
        page.render(scale=PAPER_SCALE).to_pil().save(picture)
        pictures.append(picture)
    document.close()
    return pictures
