"""The words of the trade that a homeowner should not have to read: found in a text."""

from __future__ import annotations

import re

from estimates.domain.quotes.plain_words import PLAIN

_TRADE = re.compile(r"\b(?:" + "|".join(PLAIN) + r")\b", re.IGNORECASE)


def trade_words(text: str) -> list[str]:
    """Return the words of the trade that stand in a text."""
    return _TRADE.findall(text)
