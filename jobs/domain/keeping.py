"""How long things are kept: the owner's choices, and the moment before which things go."""

from __future__ import annotations

import calendar
from datetime import datetime

PHOTOGRAPHS_MONTHS = (6, 12, 24, 36, 60, 120)
CLIENTS_MONTHS = (36, 60, 84, 120)
"""No shorter than three years: guarantees and taxes may ask for a client (common practice)."""


def months_before(moment: datetime, months: int) -> datetime:
    """Return the moment so many months earlier; a day that its month lacks is that month's last.

    >>> months_before(datetime(2027, 3, 31), 1)
    datetime.datetime(2027, 2, 28, 0, 0)
    """
    count = moment.year * 12 + moment.month - 1 - months
    year, month = max(1, count // 12), count % 12 + 1
    return moment.replace(
        year=year, month=month, day=min(moment.day, calendar.monthrange(year, month)[1])
    )


def months_words(months: int | None) -> str:
    """Return how long something is kept, in words."""
    if months is None:
        return "For good"
    years, rest = divmod(months, 12)
    if rest:
        return f"{months} months"
    return "1 year" if years == 1 else f"{years} years"
