"""The floor of rows of the database: rooms, openings and holes as the layout core knows them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from jobs.domain.floors.join import Passage, Place, PlacedRoom, join, opening, placed
from jobs.domain.lengths import mm_in
from jobs.models import Doorway, FloorZone, Room, Treatment
from jobs.readers.openings.openings import openings_of
from layout.values.outline import EdgeKind, Hole, HoleKind, Ring, Zone

# What stands at a side of a room, of `EDGE_KINDS` there, as the layout core knows it.
_EDGES = {
    "wall": EdgeKind.WALL,
    "casing": EdgeKind.CASING,
    "toe kick": EdgeKind.TOE_KICK,
    "radiator": EdgeKind.RADIATOR,
    "slider": EdgeKind.SLIDER,
    "stair": EdgeKind.STAIR_NOSE,
    "cabinet": EdgeKind.CABINET,
}


_ENDS = {Treatment.STAIR_NOSE: EdgeKind.STAIR_NOSE}


def zone_of(zone: FloorZone) -> Zone:
    """Return the floor zone as the layout core knows it, in the job's unit.

    Raises ZoningError where its rooms make no one floor, InputError for an impossible outline.
    """
    rooms = list(zone.rooms.select_related("job").order_by("order", "pk"))
    return join(
        [placed_room(room, place_of(room, alone=len(rooms) == 1)) for room in rooms],
        list(passages_of(rooms)),
        unit=zone.job.unit,
    )


def place_of(room: Room, *, alone: bool = False) -> Place:
    """Return where a room lies in its floor; a room ``alone`` in it lies as it was measured."""
    if alone:
        return Place()
    unit = room.job.unit
    return Place(
        x=mm_in(room.place_x_mm, unit),
        y=mm_in(room.place_y_mm, unit),
        turn_deg=float(room.place_turn_deg),
    )


def placed_room(room: Room, place: Place) -> PlacedRoom:
    """Return a room with outline and holes in the coordinates of its floor."""
    holes = tuple(
        Hole(ring=placed(_ring(hole["ring"]), place), kind=HoleKind(hole["kind"]))
        for hole in room.holes
    )
    edges = tuple(_EDGES[edge["kind"]] for edge in room.edges)
    ring = placed(_ring(room.outline), place)
    return PlacedRoom(name=room.name, ring=ring, holes=holes, edges=edges)


def passages_of(rooms: list[Room]) -> Iterator[Passage]:
    """Yield what the floor of these rooms covers in their openings.

    A floor carried into another of the rooms covers the opening whole. One that ends there runs to
    the middle of the wall, under the strip, or over the whole depth to a stair nose: common
    practice, no source. A floor carried to no room of these ends at the wall line.
    """
    alone = len(rooms) == 1
    together = {room.pk for room in rooms}
    for room in rooms:
        ring = placed(_ring(room.outline), place_of(room, alone=alone))
        for seen in openings_of(room):
            doorway, own = seen.doorway, seen.doorway.room_id == room.pk
            carried = doorway.treatment == Treatment.CARRY
            inside = {doorway.room_id, doorway.beyond_id} <= together
            if carried and not (inside and own):
                continue
            gap = seen.gap(room.job.unit)
            edge = opening(ring, wall=gap.wall, offset=gap.offset, width=gap.width)
            depth = _covered_depth(doorway, room.job.unit)
            yield Passage(
                room=room.name,
                ring=edge.ring(depth),
                cased=doorway.casings > 0,
                beyond=doorway.beyond.name if carried and doorway.beyond else "",
                end=_ENDS.get(Treatment(doorway.treatment), EdgeKind.TRANSITION),
            )


def _covered_depth(doorway: Doorway, unit: str) -> float:
    """Return how deep the floor reaches into an opening."""
    depth = mm_in(doorway.depth_mm, unit)
    whole = doorway.treatment in (Treatment.CARRY, Treatment.STAIR_NOSE)
    return depth if whole else depth / 2


def _ring(points: Any) -> Ring:
    return tuple((float(x), float(y)) for x, y in points)
