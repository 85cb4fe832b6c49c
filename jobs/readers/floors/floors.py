"""The floor of rows of the database: rooms, openings and holes as the layout core knows them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from jobs.domain.floors.join import Passage, PlacedRoom, join
from jobs.domain.floors.place import Place, opening, placed
from jobs.domain.lengths import mm_in
from jobs.models import Doorway, FloorPlan, FloorZone, Room, Treatment
from jobs.readers.openings.openings import RoomOpening, openings_by_room
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


@dataclass(frozen=True, slots=True, kw_only=True)
class FloorRows:
    """What a floor is made of: its rooms in order, the openings of each by its pk.

    ``begun`` is the plan that was followed, where laying has begun.
    """

    rooms: Sequence[Room]
    openings: Mapping[int, Sequence[RoomOpening]]
    begun: FloorPlan | None


def floor_rows(zones: Iterable[FloorZone]) -> dict[int, FloorRows]:
    """Return what each of these floors is made of by its pk, in four queries however many."""
    floors = {zone.pk: zone for zone in zones}
    members: dict[int | None, list[Room]] = {pk: [] for pk in floors}
    rooms = list(Room.objects.filter(zone__in=floors).select_related("job").order_by("order", "pk"))
    for room in rooms:
        members[room.zone_id].append(room)
    openings = openings_by_room(rooms)
    begun = _plans_begun(floors.values())
    return {
        pk: FloorRows(rooms=members[pk], openings=openings, begun=begun.get(pk)) for pk in floors
    }


def _plans_begun(zones: Iterable[FloorZone]) -> dict[int, FloorPlan]:
    """Return the plan that was followed of each floor that is begun, by the floor's pk."""
    followed = {zone.pk: zone.going_on.get("plan", 0) for zone in zones if zone.going_on}
    plans = FloorPlan.objects.filter(pk__in=followed.values())
    return {
        plan.zone_id: plan
        for plan in plans.select_related("request", "document")
        if followed.get(plan.zone_id) == plan.pk
    }


def zone_of(zone: FloorZone, rows: FloorRows | None = None) -> Zone:
    """Return the floor zone as the layout core knows it, in the job's unit.

    ``rows``: what it is made of, where that is read already. Raises ZoningError where its rooms
    make no one floor, InputError for an impossible outline.
    """
    rows = rows or floor_rows([zone])[zone.pk]
    return join(
        [placed_room(room, place_of(room, alone=len(rows.rooms) == 1)) for room in rows.rooms],
        list(passages_of(rows.rooms, rows.openings)),
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


def passages_of(
    rooms: Sequence[Room], openings: Mapping[int, Sequence[RoomOpening]]
) -> Iterator[Passage]:
    """Yield what the floor of these rooms covers in their openings, which stand by the room's pk.

    A floor carried into another of the rooms covers the opening whole. One that ends there runs to
    the middle of the wall, under the strip, or over the whole depth to a stair nose: common
    practice, no source. A floor carried to no room of these ends at the wall line.
    """
    alone = len(rooms) == 1
    together = {room.pk for room in rooms}
    for room in rooms:
        ring = placed(_ring(room.outline), place_of(room, alone=alone))
        for seen in openings[room.pk]:
            doorway, measured_here = seen.doorway, seen.doorway.room_id == room.pk
            carried = doorway.treatment == Treatment.CARRY
            inside = {doorway.room_id, doorway.beyond_id} <= together
            if carried and not (inside and measured_here):
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


def _ring(points: Sequence[Sequence[float]]) -> Ring:
    return tuple((float(x), float(y)) for x, y in points)
