"""The log page as the loop uses it, by its plain fields alone, without a script.

Whoever changes the page changes this module: it is filled as planned first, then slowed down.
"""

from __future__ import annotations

import re
from decimal import Decimal

from playwright.sync_api import Locator, Page

from tests.browser.hands import Hands

ROWS = re.compile(r"\((.+?)\).*?rows? (\d+)(?: to (\d+))?", re.IGNORECASE | re.DOTALL)


def log_the_day(
    hands: Hands,
    *,
    slower: Decimal,
    to_row: tuple[str, int] | None = None,
    spoiled: int = 0,
    shelf: str = "",
) -> Decimal:
    """Log the day whose page is open and return the hours that were typed.

    Every task takes as many times its planned hours. All rows of the day go down, or of one floor
    those up to ``to_row``, with planks ``spoiled``.
    ``shelf``: hours at the shelf that nobody planned.
    """
    hands.press("Log this day")
    page = hands.page
    page.goto(f"{page.url}?as=planned")
    hours = sum(_type_hours(field, planned, slower) for field, planned in _planned(page))
    _lay_through(page, to_row, spoiled)
    if shelf:
        page.get_by_text("Other tasks and other work").click()
        page.locator("[name^=other]").first.fill(shelf)
        hands.fill(note="The shelf in the hall is down.")
    page.locator("#log-form button.primary").click()
    hands.expect("The log is")
    return hours + Decimal(shelf or 0)


def rows_of_day(hands: Hands) -> dict[str, tuple[int, int]]:
    """Return the rows that the open page of a day tells, by floor."""
    table = hands.page.get_by_role("main").get_by_role("table").first
    lines = [ROWS.search(line.inner_text()) for line in table.get_by_role("row").all()]
    return {row[1]: (int(row[2]), int(row[3] or row[2])) for row in lines if row}


def _planned(page: Page) -> list[tuple[Locator, str]]:
    """Return the fields of hours that were planned, and how many hours."""
    cells = page.locator("#log-hours .log-cell input").all()
    return [(cell, hours) for cell in cells if (hours := cell.input_value())]


def _type_hours(field: Locator, planned: str, slower: Decimal) -> Decimal:
    hours = (Decimal(planned) * slower).quantize(Decimal("0.01"))
    field.fill(f"{hours}")
    return hours


def _lay_through(page: Page, to_row: tuple[str, int] | None, spoiled: int) -> None:
    if to_row:
        floor, row = to_row
        page.get_by_label(f"Last whole row, {floor}").fill(str(row))
    if spoiled:
        page.locator("[name^=spoiled-][name*=broken]").first.fill(str(spoiled))
