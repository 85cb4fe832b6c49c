"""What stands in a room: clear of the walls it becomes a hole, against one it is cut out. Pure.

Boxes are measured to the corner nearest to the room's first corner, round things (no depth) to the
middle. A round thing becomes a polygon around it, so that no plank reaches into it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from shapely.geometry import Point, Polygon

from jobs.domain.lengths import core_length_words
from jobs.domain.rooms.sides import Sided, cut_out
from jobs.domain.rooms.typed import TypedThing
from jobs.domain.rooms.typed_lengths import CLOSES_WITHIN, MeasureError, length_of
from layout.values.outline import Hole, HoleKind, Ring, ring_area
from layout.values.outline import Point as Corner
from layout.values.tolerances import OVERLAP_TOLERANCE

# What may stand against a wall, and what its sides are then.
AGAINST: Mapping[str, str] = {
    "column": "wall",
    "pipe": "wall",
    "hearth": "wall",
    "cabinet": "cabinet",
}
_OVERCUT = {"in": 0.125, "mm": 3.0}  # how far a corner of the polygon may stand off what is round
_SIDES = (8, 12, 16, 24, 32)


@dataclass(frozen=True, slots=True, kw_only=True)
class FloorShape:
    """The outline less what stands against its walls, and the holes in it."""

    outline: Sided
    holes: tuple[Hole, ...]


def with_standing(outline: Sided, things: Sequence[TypedThing], unit: str) -> FloorShape:
    """Return the room with everything that stands in it. Raises MeasureError at the row."""
    rings = [_ring(one, row, outline, unit) for row, one in enumerate(things)]
    _refuse_meeting(things, rings, clear_of_walls=False)
    near = CLOSES_WITHIN[unit]
    waiting = {
        row: _snapped(ring, outline.ring, near) if things[row].name in AGAINST else ring
        for row, ring in enumerate(rings)
    }
    walls = outline
    while row := next((n for n in waiting if not _clear(waiting[n], walls)), -1) + 1:
        shape = Polygon(waiting.pop(row - 1))
        walls = _cut(things[row - 1], row - 1, shape, (outline, walls), unit)
    left = [things[row] for row in waiting], list(waiting.values())
    _refuse_meeting(*left, clear_of_walls=True)
    holes = (Hole(ring=ring, kind=HoleKind(things[row].kind)) for row, ring in waiting.items())
    return FloorShape(outline=walls, holes=tuple(holes))


def _clear(ring: Ring, walls: Sided) -> bool:
    return bool(Polygon(walls.ring).contains_properly(Polygon(ring)))


def _cut(one: TypedThing, row: int, shape: Polygon, rooms: tuple[Sided, Sided], unit: str) -> Sided:
    """Return the outline less one thing that stands against it; ``rooms``: as walked, as cut."""
    _refuse_outside(one, row, shape, Polygon(rooms[0].ring), unit)
    less = cut_out(rooms[1], shape, AGAINST[one.name], unit)
    if less is None:
        sentence = f"{one.label} parts the floor; accepted: floor left in one piece."
        raise MeasureError(sentence, part="hole", row=row, field="x")
    return less


def round_ring(x: float, y: float, across: float, unit: str) -> Ring:
    """Return a polygon around a circle: as many corners as keep it within the overcut."""
    radius = across / 2
    fine = [n for n in _SIDES if radius / math.cos(math.pi / n) - radius <= _OVERCUT[unit]]
    count = fine[0] if fine else _SIDES[-1]
    reach = radius / math.cos(math.pi / count)
    turns = [(2 * n + 1) * math.pi / count for n in range(count)]
    return tuple(_plain((x + reach * math.cos(t), y + reach * math.sin(t))) for t in turns)


def _ring(one: TypedThing, row: int, outline: Sided, unit: str) -> Ring:
    """Return the outline of a typed thing, in the room."""
    places = (("x", one.x), ("y", one.y), ("width", one.width))
    x, y, width = (length_of(text, unit, part="hole", row=row, field=name) for name, text in places)
    hand = 1.0 if ring_area(outline.ring) > 0 else -1.0
    if not one.depth:
        return round_ring(x, y * hand, width, unit)
    depth = length_of(one.depth, unit, part="hole", row=row, field="depth")
    sides = ((x, y), (x + width, y), (x + width, y + depth), (x, y + depth))
    return tuple(_plain((px, py * hand)) for px, py in sides)


def _refuse_outside(one: TypedThing, row: int, shape: Polygon, room: Polygon, unit: str) -> None:
    """Refuse what lies off the floor, and what can't stand against a wall."""
    within = room.buffer(CLOSES_WITHIN[unit], join_style="mitre")
    if not room.intersects(shape):
        fault = "lies outside the room"
    elif one.name not in AGAINST:
        fault = "touches a wall"
    elif not within.covers(shape):
        past = max(room.distance(Point(corner)) for corner in shape.exterior.coords)
        fault = f"reaches {core_length_words(past, unit)} past a wall"
    else:
        return
    clear = "a place clear of every wall"
    accepted = f"{clear}, or against one" if one.name in AGAINST else clear
    raise MeasureError(
        f"{one.label} {fault}; accepted: {accepted}.", part="hole", row=row, field="x"
    )


def _refuse_meeting(
    things: Sequence[TypedThing], rings: Sequence[Ring], *, clear_of_walls: bool
) -> None:
    """Refuse two things in one place; only against a wall may they stand side by side."""
    for row, ring in enumerate(rings):
        for i in range(row):
            shared = Polygon(rings[i]).intersection(Polygon(ring))
            beside = shared.area < OVERLAP_TOLERANCE and all(
                things[n].name in AGAINST for n in (i, row)
            )
            if shared.is_empty or (beside and not clear_of_walls):
                continue
            where = f"{things[row].label} meets {things[i].label.lower()} beside it"
            if not clear_of_walls:
                where = f"{things[row].label} meets what stands in row {i + 1}"
            raise MeasureError(
                f"{where}; accepted: places clear of each other.",
                part="hole",
                row=row,
                field="x",
            )


def _snapped(ring: Ring, walls: Ring, near: float) -> Ring:
    """Return a ring with its corners that are near a wall put on it."""
    boundary = Polygon(walls).exterior
    return tuple(
        _plain(boundary.interpolate(boundary.project(Point(corner))).coords[0])
        if boundary.distance(Point(corner)) <= near
        else corner
        for corner in ring
    )


def _plain(point: Corner) -> Corner:
    return round(point[0], 6) + 0.0, round(point[1], 6) + 0.0
