"""The hours of a day as they lie on it."""

from __future__ import annotations

from decimal import Decimal

from jobs.models import WorkDay


def man_hours_of(day: WorkDay) -> Decimal:
    """Return the man-hours of a day: its half hours, the exact hours of one that knows none."""
    if not any("booked" in entry for entry in day.entries):
        return day.hours
    return sum((Decimal(entry.get("booked", entry["hours"])) for entry in day.entries), Decimal(0))
