"""Where an opening that was measured in one room lies in the room beyond. Pure.

Rooms that are placed already say it by themselves: the opening, carried across the wall, lies in
one of their walls. A room still to be placed only offers walls: one that faces the opening without
the room being turned comes first, and the middle of that wall.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from shapely.geometry import LineString, Point, Polygon

from jobs.domain.floors.place import Place, WallOpening, beside, opening, placed
from layout.values.outline import Ring, edges_of
from layout.values.tolerances import (
    ANGLE_TOLERANCE,
    AREA_TOLERANCE,
    LENGTH_TOLERANCE,
    TOUCHING_TOLERANCE,
)

SNUG = {"in": 2.0, "mm": 50.0}
"""A wall not more than this wider than its opening leaves no choice. Common practice, no source."""
_CENTERED = {"in": 1.0, "mm": 25.0}


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """A wall for an opening, and where the room that is not placed yet then lies.

    ``why`` is empty for a guess; else it says why nothing has to be typed.
    """

    wall: int
    offset: float
    place: Place
    why: str = ""


def facing(there: WallOpening, *, depth: float, ring: Ring, unit: str) -> tuple[int, float] | None:
    """Return wall and offset at which an opening arrives in a placed room, None where in none."""
    near = 2 * LENGTH_TOLERANCE[unit]
    far = there.ring(depth)[2:]
    for wall, (a, b) in enumerate(edges_of(ring)):
        line = LineString([a, b])
        if all(line.distance(Point(corner)) <= near for corner in far):
            at = min(line.project(Point(corner)) for corner in far)
            return wall, float(at)
    return None


def is_centered(opened: WallOpening, *, ring: Ring, wall: int, unit: str) -> bool:
    """Whether an opening lies in the middle of its wall, within an inch."""
    a, b = ring[wall], ring[(wall + 1) % len(ring)]
    sides = math.dist(a, opened.first), math.dist(b, opened.last)
    return abs(sides[0] - sides[1]) <= 2 * _CENTERED[unit]


def matches_beyond(
    there: WallOpening,
    *,
    depth: float,
    ring: Ring,
    others: Sequence[Ring],
    centered: bool,
    unit: str,
) -> list[Match]:
    """Return the walls of a room to be placed that an opening of a placed room may lie in.

    ``ring`` is the local ring of that room; the likeliest wall comes first. ``centered``: the
    opening lies in the middle of its own wall.
    """
    width = math.dist(there.first, there.last)

    def put(wall: int, offset: float) -> Place:
        return beside(there, depth=depth, ring=ring, wall=wall, offset=offset)

    return _best(ring, width, put, ring, others, centered, unit)


def matches_before(
    base: Ring,
    *,
    width: float,
    depth: float,
    ring: Ring,
    wall: int,
    offset: float,
    others: Sequence[Ring],
    centered: bool,
    unit: str,
) -> list[Match]:
    """Return the walls of a placed room that an opening of a room to be placed may lie in.

    ``wall`` and ``offset`` say where the opening was measured in ``ring``, the local ring.
    """

    def put(base_wall: int, at: float) -> Place:
        there = opening(base, wall=base_wall, offset=at, width=width)
        return beside(there, depth=depth, ring=ring, wall=wall, offset=offset)

    return _best(base, width, put, ring, others, centered, unit)


def _best(
    walls: Ring,
    width: float,
    put: Callable[[int, float], Place],
    ring: Ring,
    others: Sequence[Ring],
    centered: bool,
    unit: str,
) -> list[Match]:
    """Return what fits, unturned rooms and long walls first, with the reason where one is sure."""
    taken = [Polygon(other) for other in others]
    matches: list[tuple[float, float, Match]] = []
    for wall, (a, b) in enumerate(edges_of(walls)):
        room = math.dist(a, b) - width
        if room < -LENGTH_TOLERANCE[unit]:
            continue
        for offset in _offsets(max(0.0, room)):
            place = put(wall, offset)
            if not _overlaps(placed(ring, place), taken, unit):
                turn = min(place.turn_deg, 360 - place.turn_deg)
                matches.append((turn, -room, Match(wall=wall, offset=offset, place=place)))
                break
    matches.sort(key=lambda each: each[:2])
    return list(_with_reason(matches, centered, unit))


def _offsets(room: float) -> Iterator[float]:
    """Yield places in a wall that leaves so much beside the opening: the middle, then the ends."""
    yield room / 2
    if room > 0:
        yield 0.0
        yield room


def _with_reason(
    matches: Sequence[tuple[float, float, Match]], centered: bool, unit: str
) -> Iterator[Match]:
    """Yield the matches, the first with its reason where it leaves no choice."""
    unturned = [each for each in matches if each[0] < ANGLE_TOLERANCE]
    for number, (turn, minus_room, match) in enumerate(matches):
        why = ""
        if number == 0 and len(unturned) == 1 and turn < ANGLE_TOLERANCE:
            if -minus_room <= SNUG[unit]:
                why = "the wall is no wider than the opening"
            elif centered and abs(match.offset + minus_room / 2) < TOUCHING_TOLERANCE:
                why = "the opening is centered in its wall"
        yield Match(wall=match.wall, offset=match.offset, place=match.place, why=why)


def _overlaps(ring: Ring, taken: Sequence[Polygon], unit: str) -> bool:
    """Whether a ring lies on floor that is taken."""
    shape = Polygon(ring)
    return any(shape.intersection(other).area > AREA_TOLERANCE[unit] for other in taken)
