"""The list of time zones a company chooses its own from."""

from __future__ import annotations

from jobs.clock import time_zone_names

USUAL = (
    ("America/New_York", "Eastern: New York"),
    ("America/Chicago", "Central: Chicago"),
    ("America/Denver", "Mountain: Denver"),
    ("America/Phoenix", "Mountain, no summer time: Phoenix"),
    ("America/Los_Angeles", "Pacific: Los Angeles"),
    ("America/Anchorage", "Alaska: Anchorage"),
    ("Pacific/Honolulu", "Hawaii: Honolulu"),
    ("America/Puerto_Rico", "Atlantic: Puerto Rico"),
)

Grouped = tuple[str, list[tuple[str, str]]]


def zone_choices() -> list[Grouped]:
    """Return the usual zones with plain names, then every other by its own."""
    usual = {name for name, _ in USUAL}
    others = [(name, name.replace("_", " ")) for name in time_zone_names() if name not in usual]
    return [("United States", list(USUAL)), ("Elsewhere", others)]
