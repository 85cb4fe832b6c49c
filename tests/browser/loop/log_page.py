"""The log page as the loop uses it: its plain fields alone. Whoever changes it changes this."""

from __future__ import annotations

import re
from decimal import Decimal

from tests.browser.hands import Hands

PLANNED = re.compile(r"([\d.]+) h planned")
ROWS = re.compile(r"\((.+?)\).*?rows? (\d+)(?: to (\d+))?", re.IGNORECASE | re.DOTALL)


def log_the_day(
    hands: Hands, *, slower: Decimal, to_row: int = 0, spoiled: int = 0, shelf: str = ""
) -> Decimal:
    """Log the day whose page is open and return the hours that were typed.

    Every task takes as many times its planned hours. All rows of the day go down, or those up to
    ``to_row``, with planks ``spoiled``; ``shelf``: hours at the shelf that nobody planned.
    """
    rows = rows_of_day(hands)
    hands.press("Log this day")
    typed = Decimal(0)
    for block in hands.page.locator(".task-hours").all():
        planned = PLANNED.search(block.inner_text())
        if planned:
            hours = (Decimal(planned[1]) * slower).quantize(Decimal("0.01"))
            block.locator("input").fill(f"{hours}")
            typed += hours
    for floor, span in rows.items():
        _lay(hands, floor, span, to_row, spoiled)
    if shelf:
        _log_the_shelf(hands, shelf)
        typed += Decimal(shelf)
    hands.press("Take down the log")
    hands.expect("The log is taken down.")
    return typed


def rows_of_day(hands: Hands) -> dict[str, tuple[int, int]]:
    """Return the rows that the open page of a day tells, by floor."""
    table = hands.page.get_by_role("main").get_by_role("table").first
    lines = [ROWS.search(line.inner_text()) for line in table.get_by_role("row").all()]
    return {row[1]: (int(row[2]), int(row[3] or row[2])) for row in lines if row}


def _lay(hands: Hands, floor: str, span: tuple[int, int], to_row: int, spoiled: int) -> None:
    first, last = span
    page = hands.page
    page.get_by_label(f"First row laid, {floor}").fill(str(first))
    page.get_by_label(f"Last row laid, {floor}").fill(str(min(to_row, last) if to_row else last))
    if spoiled:
        page.get_by_label(f"Planks spoiled, {floor}").fill(str(spoiled))
        page.get_by_label(f"Why spoiled, {floor}").select_option(label="Lock broken")


def _log_the_shelf(hands: Hands, hours: str) -> None:
    hands.page.get_by_text("Other tasks and other work").click()
    hands.fill(other_hours=hours, note="The shelf in the hall is down.")
