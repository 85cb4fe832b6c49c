"""Where the rooms of a floor lie: a room turned and moved, the openings in its walls. Pure.

Every length is in the job's unit. A room's ring is local: the first corner at (0, 0), the first
wall along +x; its `Place` says where that corner lies in the zone and how far the room is turned.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from layout.values.outline import Point as Corner
from layout.values.outline import Ring, direction_vector, from_frame, ring_area
from layout.values.tolerances import PARALLEL_TOLERANCE


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a room's first corner lies in the zone, and how far the room is turned."""

    x: float = 0.0
    y: float = 0.0
    turn_deg: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class WallOpening:
    """An opening in a wall: its two corners along the wall, and the way out of the room."""

    first: Corner
    last: Corner
    outward: Corner

    def ring(self, depth: float) -> Ring:
        """Return the quadrangle that reaches ``depth`` out of the room."""
        return (
            self.first,
            self.last,
            moved(self.last, self.outward, depth),
            moved(self.first, self.outward, depth),
        )


def placed(points: Iterable[Corner], place: Place) -> Ring:
    """Return local points of a room in the coordinates of its zone."""
    turned = from_frame(points, place.turn_deg)
    return tuple((x + place.x, y + place.y) for x, y in turned)


def opening(ring: Ring, *, wall: int, offset: float, width: float) -> WallOpening:
    """Return the opening in a wall, ``offset`` along it. Raises IndexError for no such wall."""
    a, b = ring[wall], ring[(wall + 1) % len(ring)]
    length = math.dist(a, b)
    along = ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
    hand = 1.0 if ring_area(ring) > 0 else -1.0
    return WallOpening(
        first=moved(a, along, offset),
        last=moved(a, along, offset + width),
        outward=(along[1] * hand, -along[0] * hand),
    )


def beside(there: WallOpening, *, depth: float, ring: Ring, wall: int, offset: float) -> Place:
    """Return where a room must lie for its own opening to meet ``there`` across a wall.

    ``ring`` is the local ring of the room to be placed, ``wall`` and ``offset`` say where the
    same opening lies in it.
    """
    width = math.dist(there.first, there.last)
    here = opening(ring, wall=wall, offset=offset, width=width)
    turn = _angle((-there.outward[0], -there.outward[1])) - _angle(here.outward)
    turn = round(turn % 360.0, 6) % 360.0
    middle = moved(halfway(there.first, there.last), there.outward, depth)
    ((x, y),) = from_frame([halfway(here.first, here.last)], turn)
    return Place(x=middle[0] - x, y=middle[1] - y, turn_deg=turn)


def moved(point: Corner, way: Corner, far: float) -> Corner:
    """Return a point moved so far a way."""
    return point[0] + way[0] * far, point[1] + way[1] * far


def halfway(a: Corner, b: Corner) -> Corner:
    """Return the point half-way between two."""
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2


def _angle(way: Corner) -> float:
    """Return the angle of a way in degrees; exact along the axes."""
    for turned in (0, 90, 180, 270):
        if math.dist(way, direction_vector(turned)) < PARALLEL_TOLERANCE:
            return float(turned)
    return math.degrees(math.atan2(way[1], way[0]))
