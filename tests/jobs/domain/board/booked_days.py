"""Days on a board, written by hand."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from jobs.domain.board.booked import BookedDay

MONDAY = date(2026, 11, 30)
BO, ANA, CY = (1, "Bo Reed"), (2, "Ana Sol"), (3, "Cy Dunn")


def booked(job: int, day: int = 0, hours: str = "16", **values: Any) -> BookedDay:
    """Return a day of a crew of two, so many days after Monday, November 30."""
    said: dict[str, Any] = {
        "date": MONDAY + timedelta(days=day),
        "number": 1,
        "job": job + 100,
        "job_number": job,
        "crew": 1,
        "crew_name": "First crew",
        "people": (BO, ANA),
        "man_hours": Decimal(hours),
        "hours_per_day": Decimal(8),
    }
    return BookedDay(**said | values)


def second(job: int, day: int = 0, **values: Any) -> BookedDay:
    """Return a day of another crew, of Cy and whoever else is named."""
    people = (CY, *values.pop("more", ()))
    return booked(job, day, crew=2, crew_name="Second crew", people=people, **values)
