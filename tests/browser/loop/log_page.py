"""The log page as the loop uses it, by its plain fields alone, without a script.

Whoever changes the page changes this module: one of a whole crew is filled as planned first, one of
a single person task by task.
"""

from __future__ import annotations

import re
from decimal import Decimal

from playwright.sync_api import Locator, Page

from tests.browser.hands import Hands

ROWS = re.compile(r"\((.+?)\).*?rows? (\d+)(?: to (\d+))?", re.IGNORECASE | re.DOTALL)
PLANNED = re.compile(r"([\d.]+) h planned")


def log_the_day(
    hands: Hands, *, slower: Decimal, to_row: int = 0, spoiled: int = 0, shelf: str = ""
) -> Decimal:
    """Log the day whose page is open and return the hours that were typed.

    Every task takes as many times its planned hours. All rows of the day go down, or those up to
    ``to_row``, with planks ``spoiled``; ``shelf``: hours at the shelf that nobody planned.
    """
    rows = rows_of_day(hands)
    hands.press("Log this day")
    page = hands.page
    if whole_crew := bool(page.locator("#as-planned").count()):
        page.goto(f"{page.url}?as=planned")
    hours = sum(_type_hours(field, planned, slower) for field, planned in _planned(page))
    if whole_crew:
        _lay_through(page, to_row, spoiled)
    else:
        _lay_from_to(page, rows, to_row, spoiled)
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
    blocks = page.locator(".task-hours").all()
    planned = [(cell, cell.input_value()) for cell in cells]
    for block in blocks:
        hours = PLANNED.search(block.inner_text())
        planned.append((block.locator("input"), hours[1] if hours else ""))
    return [(field, hours) for field, hours in planned if hours]


def _type_hours(field: Locator, planned: str, slower: Decimal) -> Decimal:
    hours = (Decimal(planned) * slower).quantize(Decimal("0.01"))
    field.fill(f"{hours}")
    return hours


def _lay_through(page: Page, to_row: int, spoiled: int) -> None:
    if to_row:
        page.locator("[name^=through-]").first.fill(str(to_row))
    if spoiled:
        page.locator("[name^=spoiled-][name*=broken]").first.fill(str(spoiled))


def _lay_from_to(page: Page, rows: dict[str, tuple[int, int]], to_row: int, spoiled: int) -> None:
    for floor, (first, last) in rows.items():
        end = min(to_row, last) if to_row else last
        page.get_by_label(f"First row laid, {floor}").fill(str(first))
        page.get_by_label(f"Last row laid, {floor}").fill(str(end))
        if spoiled:
            page.get_by_label(f"Planks spoiled, {floor}").fill(str(spoiled))
            page.get_by_label(f"Why spoiled, {floor}").select_option(label="Lock broken")
