"""The walls and doorways of floors as their packet names them, where they lie in the floor."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from shapely.geometry import Polygon

from jobs.domain.floors.place import opening
from jobs.domain.openings.said import opening_words
from jobs.domain.rooms.sides import OutlineSide, names_of
from jobs.models import FloorZone, Room
from jobs.readers.floors.floors import FloorRows, floor_rows, place_of, placed_room
from jobs.readers.openings.openings import RoomOpening
from layout.drawing.floor.landmarks import Landmark
from layout.values.outline import Point, Ring, edges_of, ring_area


def landmarks_of(zones: Iterable[FloorZone]) -> dict[int, tuple[Landmark, ...]]:
    """Return the landmarks of these floors by the floor's pk, in as many queries as of one."""
    return {pk: tuple(_of_floor(rows)) for pk, rows in floor_rows(zones).items()}


def _of_floor(rows: FloorRows) -> Iterator[Landmark]:
    alone = len(rows.rooms) == 1
    for room in rows.rooms:
        ring = placed_room(room, place_of(room, alone=alone)).ring
        if not ring:
            continue
        if not alone:
            inside = Polygon(ring).representative_point()
            yield Landmark(words=room.name, ends=((inside.x, inside.y),))
        yield from _walls(room, ring)
        yield from _doorways(room, ring, rows.openings[room.pk])


def _walls(room: Room, ring: Ring) -> Iterator[Landmark]:
    """Yield the walls of a room by the numbers that pages call them by, each once."""
    sides = [OutlineSide(wall=side["wall"], kind=side["kind"]) for side in room.edges]
    names = names_of(sides or [OutlineSide(wall=number) for number in range(len(ring))])
    for name, ends in zip(names, edges_of(ring), strict=True):
        if name:
            yield Landmark(words=f"wall {name}", ends=_walked(ring, ends))


def _doorways(room: Room, ring: Ring, openings: Sequence[RoomOpening]) -> Iterator[Landmark]:
    """Yield the doorways of a room; one that is measured from the room beyond has no words here."""
    for seen in openings:
        gap = seen.gap(room.job.unit)
        hole = opening(ring, wall=gap.wall, offset=gap.offset, width=gap.width)
        doorway = seen.doorway
        beyond = doorway.beyond.name if doorway.beyond else doorway.beyond_floor
        leads = seen.leads if seen.field_prefix else beyond
        words = opening_words(str(doorway.kind), leads)
        yield Landmark(words=words, ends=_walked(ring, (hole.first, hole.last)), doorway=True)


def _walked(ring: Ring, ends: tuple[Point, Point]) -> tuple[Point, Point]:
    """Return both ends of a wall as it is walked with the floor on the left."""
    return ends if ring_area(ring) > 0 else ends[::-1]
