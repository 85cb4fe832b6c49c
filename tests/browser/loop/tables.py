"""Figures as a page shows them, for what must sum up."""

from __future__ import annotations

import re
from decimal import Decimal

from tests.browser.hands import Hands

MONEY = re.compile(r"-?\$[\d,]+\.\d\d")


def amounts(hands: Hands, caption: str) -> list[Decimal]:
    """Return the last amount of each row of the table with this caption."""
    table = hands.page.get_by_role("table", name=caption, exact=True)
    rows = [MONEY.findall(row.inner_text()) for row in table.get_by_role("row").all()]
    return [amount(row[-1]) for row in rows if row]


def amount(shown: str) -> Decimal:
    """Return an amount that is shown: -$1,234.50."""
    return Decimal(shown.replace("$", "").replace(",", ""))


def shown_in(hands: Hands, pattern: str) -> tuple[str, ...]:
    """Return what the groups of a pattern match in the page's words."""
    words = " ".join(hands.page.get_by_role("main").inner_text().split())
    match = re.search(pattern, words)
    assert match is not None, f"{pattern} is not in: {words}"
    return match.groups()
