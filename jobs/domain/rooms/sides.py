"""What a room's outline consists of: each side with the wall it belongs to and what stands there.

A bowed wall has corners at the stations where it was read; what stands against a wall is cut out of
the floor and brings sides of its own. So one wall may be several sides, or a side no wall. Pure.

         1a        1b
    (0)______/\\______(1)     wall 1 with a station in the middle, pushed out of the room there
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from string import ascii_lowercase

from shapely.geometry import LineString, Point, Polygon

from jobs.domain.lengths import core_length_words
from jobs.domain.rooms.typed import BowReading, TypedWall
from jobs.domain.rooms.typed_lengths import MeasureError, length_of
from layout.values.outline import Point as Corner
from layout.values.outline import Ring, edges_of, ring_area
from layout.values.tolerances import LENGTH_TOLERANCE

MOST_BOWED = {"in": 12.0, "mm": 305.0}


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlineSide:
    """One side of an outline: its wall, from 0, None for what stands on the floor; its kind."""

    wall: int | None = None
    kind: str = "wall"


@dataclass(frozen=True, slots=True, kw_only=True)
class Sided:
    """An outline and what each of its sides is, side i from corner i to the next."""

    ring: Ring
    sides: tuple[OutlineSide, ...]


def names_of(sides: Sequence[OutlineSide]) -> list[str]:
    """Return how each side is called: "2", or "2a" and "2b" of one wall; "" where it is no wall."""
    owners = [side.wall for side in sides]
    names, seen = [], dict[int, int]()
    for wall in owners:
        if wall is None:
            names.append("")
            continue
        nth = seen.get(wall, 0)
        seen[wall] = nth + 1
        letter = ascii_lowercase[nth % 26] if owners.count(wall) > 1 else ""
        names.append(f"{wall + 1}{letter}")
    return names


def sides_of(walls: Sequence[TypedWall], count: int) -> tuple[OutlineSide, ...]:
    """Return the sides of an outline of ``count`` plain walls with what was typed at each."""
    kinds = [wall.edge for wall in walls]
    kinds += ["wall"] * (count - len(kinds))
    return tuple(OutlineSide(wall=n, kind=kind) for n, kind in enumerate(kinds[:count]))


def bent(plain: Sided, bows: Sequence[BowReading], unit: str) -> Sided:
    """Return the outline with a corner at every station of a bowed wall.

    A station lies ``along`` its wall from the wall's first corner and ``into`` the room, less than
    zero out of it. Raises MeasureError at the row of a station that is off its wall.
    """
    stations: dict[int, list[tuple[float, Corner]]] = {}
    hand = 1.0 if ring_area(plain.ring) > 0 else -1.0
    for row, bow in enumerate(bows):
        wall, along, into = _station(bow, row, plain, unit)
        (ax, ay), (bx, by) = plain.ring[wall], plain.ring[(wall + 1) % len(plain.ring)]
        length = math.dist((ax, ay), (bx, by))
        ux, uy = (bx - ax) / length, (by - ay) / length
        point = (ax + ux * along - uy * into * hand, ay + uy * along + ux * into * hand)
        near = [at for at, _ in stations.get(wall, []) if abs(at - along) < _apart(unit)]
        if near:
            sentence = f"Wall {wall + 1} has a reading there; accepted: one at each place."
            raise MeasureError(sentence, part="bow", row=row, field="along")
        stations.setdefault(wall, []).append((along, _plain(point)))
    ring: list[Corner] = []
    sides: list[OutlineSide] = []
    for n, (corner, side) in enumerate(zip(plain.ring, plain.sides, strict=True)):
        points = [corner, *(point for _, point in sorted(stations.get(n, [])))]
        ring += points
        sides += [side] * len(points)
    if not Polygon(ring).is_valid:
        sentence = "With its bows the outline meets itself; accepted: walls clear of each other."
        raise MeasureError(sentence, part="bow", row=len(bows) - 1, field="into")
    return Sided(ring=tuple(ring), sides=tuple(sides))


def along_wall(corners: Ring, outline: Sided, side: int, offset: float) -> tuple[int, float] | None:
    """Return the wall that a side belongs to, and how far along it a place on the side lies.

    ``corners`` are those of the walls as walked. None for a side of no wall.
    """
    wall = outline.sides[side].wall
    if wall is None:
        return None
    a, b = outline.ring[side], outline.ring[(side + 1) % len(outline.ring)]
    share = offset / math.dist(a, b)
    point = Point(a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)
    return wall, float(_line(corners, wall).project(point))


def on_side(corners: Ring, outline: Sided, wall: int, along: float) -> tuple[int, float] | None:
    """Return the side on which a place along a wall lies, and how far along the side it lies.

    Where nothing of the wall is left there it is the nearest side of that wall; None without one.
    """
    if not 0 <= wall < len(corners):
        return None
    line = _line(corners, wall)
    point = line.interpolate(along)
    of_wall = [n for n, side in enumerate(outline.sides) if side.wall == wall]
    pairs = list(edges_of(outline.ring))
    spans = {n: tuple(line.project(Point(corner)) for corner in pairs[n]) for n in of_wall}
    holding = [n for n, (low, high) in spans.items() if low <= along < high]
    if not of_wall:
        return None
    side = (holding or sorted(of_wall, key=lambda n: LineString(pairs[n]).distance(point)))[0]
    return side, float(LineString(pairs[side]).project(point))


def _line(corners: Ring, wall: int) -> LineString:
    return LineString([corners[wall], corners[(wall + 1) % len(corners)]])


def cut_out(outline: Sided, shape: Polygon, kind: str, unit: str) -> Sided | None:
    """Return the outline less what stands against its walls; None where that parts the floor.

    The sides that are new belong to no wall and are of ``kind``. The outline is walked the same
    way round, from the corner nearest to where it began.
    """
    left = Polygon(outline.ring).difference(shape)
    if left.geom_type != "Polygon" or left.interiors:
        return None
    ring = tuple(_plain(corner) for corner in left.exterior.coords[:-1])
    if (ring_area(ring) > 0) != (ring_area(outline.ring) > 0):
        ring = tuple(reversed(ring))
    first = min(range(len(ring)), key=lambda n: math.dist(ring[n], outline.ring[0]))
    ring = ring[first:] + ring[:first]
    near = 2 * LENGTH_TOLERANCE[unit]
    new = OutlineSide(kind=kind)
    sides = tuple(_old_side(a, b, outline, near) or new for a, b in edges_of(ring))
    return Sided(ring=ring, sides=sides)


def _old_side(a: Corner, b: Corner, outline: Sided, near: float) -> OutlineSide | None:
    """Return the side of the outline that a stretch lies on, None where it lies on none."""
    middle = Point((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    for side, pair in zip(outline.sides, edges_of(outline.ring), strict=True):
        line = LineString(pair)
        if line.distance(middle) < near and max(line.distance(Point(c)) for c in (a, b)) < near:
            return side
    return None


def _station(bow: BowReading, row: int, outline: Sided, unit: str) -> tuple[int, float, float]:
    """Return wall, distance along and offset of a station."""
    wall, count = bow.wall, len(outline.ring)
    if not 1 <= wall <= count:
        sentence = f"There is no wall {wall}; accepted: 1 to {count}."
        raise MeasureError(sentence, part="bow", row=row, field="wall")
    along, into = (
        length_of(text, unit, part="bow", row=row, field=name)
        for name, text in (("along", bow.along), ("into", bow.into))
    )
    length = math.dist(outline.ring[wall - 1], outline.ring[wall % count])
    if not _apart(unit) <= along <= length - _apart(unit):
        where, whole = core_length_words(along, unit), core_length_words(length, unit)
        sentence = f"{where} is not on wall {wall}; accepted: between its corners, {whole} apart."
        raise MeasureError(sentence, part="bow", row=row, field="along")
    if abs(into) > MOST_BOWED[unit]:
        most = core_length_words(MOST_BOWED[unit], unit)
        sentence = (
            f"{core_length_words(into, unit)} is no bow; accepted: up to {most} either way, or the "
            "jog walked as walls."
        )
        raise MeasureError(sentence, part="bow", row=row, field="into")
    return wall - 1, along, into


def _apart(unit: str) -> float:
    """Return how far a station must be from a corner and from another station."""
    return 4 * LENGTH_TOLERANCE[unit]


def _plain(point: Corner) -> Corner:
    return round(point[0], 6) + 0.0, round(point[1], 6) + 0.0
