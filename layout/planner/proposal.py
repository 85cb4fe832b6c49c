"""Which way a lead would lay a floor: down a hall, else along the longest wall.

+---------+      what is narrower than 5 ft and at least twice as long as wide is a *hall*;
|   den   |      rows across it look like a ladder and take a cut at either side of every
|    +----+      row, so it is laid down its length, and the rooms beside it follow
|hall|
+----+           Common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import atan2, degrees, hypot

from shapely.geometry import Polygon

from layout.values.outline import Zone, main_directions, polygons_of, zone_polygon
from layout.values.units import INCH

NARROW_IN = 60.0  # what is as wide is a room
LEAST_LENGTH_IN = 72.0  # what is shorter is a doorway or a closet
_LEAST_RATIO = 2.0  # of length to width
ACROSS_DEG = 45.0  # rows that turn further from a hall's length lie across it


@dataclass(frozen=True, slots=True, kw_only=True)
class Hall:
    """A narrow stretch of a floor: its width, its length, the direction of its length."""

    width: float
    length: float
    direction_deg: float


def proposed_direction(zone: Zone, unit: str) -> float:
    """Return the direction a lead would lay a zone in: of its longest hall, else longest wall."""
    walls = main_directions(zone.outline)
    halls = halls_of(zone, unit)
    if not halls:
        return walls[0]
    longest = max(halls, key=lambda hall: hall.length)
    return min(walls, key=lambda wall: turn_between(wall, longest.direction_deg))


def halls_of(zone: Zone, unit: str) -> tuple[Hall, ...]:
    """Return the halls of a zone, the longest first; posts and cabinets don't make one."""
    inch = INCH[unit]
    whole = Polygon(zone_polygon(zone).exterior)
    reach = NARROW_IN * inch / 2 * (1 - 1 / NARROW_IN)
    wide = whole.buffer(-reach, join_style="mitre").buffer(reach, join_style="mitre")
    halls = [_hall(part) for part in polygons_of(whole.difference(wide))]
    kept = [
        hall
        for hall in halls
        if hall.length >= max(LEAST_LENGTH_IN * inch, _LEAST_RATIO * hall.width)
        and hall.width < NARROW_IN * inch
    ]
    return tuple(sorted(kept, key=lambda hall: -hall.length))


def crosswise_halls(zone: Zone, unit: str, direction_deg: float) -> tuple[Hall, ...]:
    """Return the halls of a zone that rows in a direction lie across."""
    return tuple(
        hall
        for hall in halls_of(zone, unit)
        if turn_between(direction_deg, hall.direction_deg) > ACROSS_DEG
    )


def _hall(part: Polygon) -> Hall:
    """Return a part as long and wide as the smallest rectangle around it."""
    corners = list(part.minimum_rotated_rectangle.exterior.coords)
    sides = [(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(corners[:3])]
    along, up = max(sides, key=lambda side: hypot(*side))
    length = hypot(along, up)
    direction = round(degrees(atan2(up, along)) % 180, 1) % 180
    # By its area: a doorway in its side makes it no wider.
    return Hall(width=part.area / length, length=length, direction_deg=direction)


def turn_between(one: float, two: float) -> float:
    """Return by how many degrees two directions of rows differ, at most 90."""
    apart = abs(one - two) % 180
    return min(apart, 180 - apart)
