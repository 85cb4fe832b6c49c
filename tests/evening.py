"""One evening that is two days, for tests of what names a day.

2026-03-10 02:30 UTC   New York  Mon, Mar 9, 22:30 (summer time since the day before)
                       Auckland  Tue, Mar 10, 15:30
"""

from __future__ import annotations

import re
from datetime import UTC, datetime

import pytest

EVENING = datetime(2026, 3, 10, 2, 30, tzinfo=UTC)
NEW_YORK, AUCKLAND = "America/New_York", "Pacific/Auckland"
_IN_MARCH = re.compile(r"\bMar(?:ch)? (\d+)\b")

each_place = pytest.mark.parametrize(("zone", "day"), [(NEW_YORK, 9), (AUCKLAND, 10)])
"""Once with a company of New York and the 9th, once with one of Auckland and the 10th."""


def days_named(text: str) -> set[int]:
    """Return the days of March that a text names."""
    return {int(day) for day in _IN_MARCH.findall(text)}
