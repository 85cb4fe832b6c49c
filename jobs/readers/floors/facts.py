"""What the page of a floor says of it in a few lines."""

from __future__ import annotations

from jobs.domain.lengths import length_words
from jobs.models import FloorZone
from jobs.readers.floors.piles import piles_words

STARTS = {"low": "At the bottom, rows go up", "high": "At the top, rows go down"}
"""Where row 1 lies, seen as a plan is drawn: with the planks lying left to right."""


def floor_facts(zone: FloorZone, area: str) -> list[tuple[str, str]]:
    """Return what a floor's page says of it, label and value; ``area`` in words."""
    system, product = zone.job.units, zone.product
    direction = zone.direction_deg
    extra = [*(["one carton for the attic"] if zone.attic_carton else [])]
    under = [word for word, on in (("pad", zone.pad), ("vapor barrier", zone.barrier)) if on]
    return [
        ("Rooms", ", ".join(room.name for room in zone.rooms.all()) or "None"),
        ("Floor area", area),
        ("Product", f"{product}, {product.size}, {product.carton_boards} planks a carton"),
        ("Direction", "Compared" if direction is None else f"{direction.normalize():f}°"),
        ("Start wall", STARTS[zone.start]),
        ("Row laid first", f"Row {zone.control_row}" if zone.control_row else ""),
        ("Down", _down(zone)),
        ("Counted", piles_words(zone)),
        ("Walls may stand off by", length_words(zone.wall_error_mm, system)),
        ("Spare planks", ", ".join([f"{zone.spares} planks", *extra])),
        ("Under it", ", ".join(under)),
    ]


def _down(zone: FloorZone) -> str:
    """Return what is down and at hand; empty where laying is planned from the start."""
    going = zone.going_on
    if not going:
        return ""
    return f"{len(going['laid'])} pieces; {going['planks']} whole planks at hand"
