"""New rows like old ones: rooms with their openings, trim and place, in this job or another.

A reading is of one site and one day. So the depth survey, bags of leveler that came of it, counted
piles, boards that are down, notes and photographs stay with the room or floor that they are of.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

from django.db.models import Max, Model, Q

from jobs.domain.copies import name_beside
from jobs.models import Doorway, FloorZone, Job, Room, Swing, TrimRun
from jobs.models.base import Values
from jobs.services.openings.doorways import filled, follow_proposals, put_strip
from jobs.services.trim import derive_trim

M = TypeVar("M", bound=Model)
_NEW_IN_A_ROW = frozenset({"id", "version", "created_at", "changed_at"})
_READ_IN_A_ROOM: Values = {"depths": [], "leveler_bags": 0}
_READ_ON_A_FLOOR: Values = {"going_on": {}, "piles": [], "stock_planks": 0}
_ALONE: Values = {"zone": None, "place_x_mm": 0, "place_y_mm": 0, "place_turn_deg": 0}
_NOWHERE: Values = {"beyond": None, "beyond_wall": None, "beyond_offset_mm": None}
_FROM_BEYOND = {Swing.IN: Swing.OUT, Swing.OUT: Swing.IN}


@dataclass(frozen=True, kw_only=True, slots=True)
class Twins:
    """The new rooms and floors by the keys of the old ones."""

    rooms: Mapping[int, Room]
    zones: Mapping[int, FloorZone]


def twin(row: M, **changes: object) -> M:
    """Return a new row like ``row`` but for these changes, saved."""
    fields = row._meta.concrete_fields  # noqa: SLF001  public by Django's documentation
    values = {field.name: field for field in fields if field.name not in _NEW_IN_A_ROW}
    kept = {
        field.attname: getattr(row, field.attname)
        for name, field in values.items()
        if name not in changes
    }
    new = type(row)(**kept, **changes)
    new.save(force_insert=True)
    return new


def copy_into(
    job: Job,
    *,
    rooms: Sequence[Room],
    zones: Sequence[FloorZone] = (),
    names: Mapping[int, str] | None = None,
) -> Twins:
    """Return new rooms and floors in ``job`` like these, joined as these are.

    ``names``: what a room is to be called, by its key; else it keeps its name where that is free.
    A room whose floor does not come with it lies in none. Trim and treatments follow.
    """
    new_zones = {zone.pk: _zone(zone, job) for zone in zones}
    new_rooms = _rooms(job, rooms, new_zones, names or {})
    twins = Twins(rooms=new_rooms, zones=new_zones)
    _openings(twins)
    _edited_trim(twins)
    derive_trim(job=job)
    follow_proposals(job=job)
    return twins


def _zone(zone: FloorZone, job: Job) -> FloorZone:
    taken = job.zones.values_list("name", flat=True)
    name = name_beside(zone.name, taken, longest=FloorZone.LONGEST_NAME)
    return twin(zone, job=job, name=name, **_READ_ON_A_FLOOR)


def _rooms(
    job: Job, rooms: Sequence[Room], zones: Mapping[int, FloorZone], names: Mapping[int, str]
) -> dict[int, Room]:
    taken = set(job.rooms.values_list("name", flat=True))
    last: int = job.rooms.aggregate(top=Max("order"))["top"] or 0
    new = {}
    for place, room in enumerate(rooms, start=1):
        name = name_beside(names.get(room.pk, room.name), taken, longest=80)
        taken.add(name)
        zone = zones.get(room.zone_id or 0)
        lies = {"zone": zone} if zone else _ALONE
        new[room.pk] = twin(room, job=job, name=name, order=last + place, **_READ_IN_A_ROOM, **lies)
    return new


def _openings(twins: Twins) -> None:
    """Put the openings of the old rooms into the new ones, also those measured from beyond."""
    keys = list(twins.rooms)
    doorways = Doorway.objects.filter(Q(room__in=keys) | Q(beyond__in=keys))
    for doorway in doorways.order_by("pk"):
        _opening(doorway, twins)


def _opening(doorway: Doorway, twins: Twins) -> None:
    """Copy one opening with its strip; what lies beyond is known only where it comes along."""
    room, beyond = twins.rooms.get(doorway.room_id), twins.rooms.get(doorway.beyond_id or 0)
    if room is not None:
        leads = {"beyond": beyond} if beyond is not None else _NOWHERE
        put_strip(twin(doorway, room=room, **leads))
    elif beyond is not None and doorway.beyond_wall is not None:
        put_strip(_seen_from_beyond(doorway, beyond))


def _seen_from_beyond(doorway: Doorway, room: Room) -> Doorway:
    """Return an opening of ``room`` alone that was measured in the room on its other side."""
    new = Doorway(
        room=room,
        wall=doorway.beyond_wall or 0,
        offset_mm=doorway.beyond_offset_mm or 0,
        width_mm=doorway.width_mm,
        depth_mm=doorway.depth_mm,
        kind=doorway.kind,
        swing=_FROM_BEYOND.get(Swing(doorway.swing), doorway.swing),
        metal_frame=doorway.metal_frame,
        casings=doorway.casings,
        doors_off=doorway.doors_off,
    )
    filled(new, {}).save(force_insert=True)
    return new


def _edited_trim(twins: Twins) -> None:
    """Copy what a person set on runs of trim; the other runs follow from walls and openings."""
    by_hand = Q(edited=True) | Q(left_out=True)
    for run in TrimRun.objects.filter(by_hand, room__in=list(twins.rooms)).order_by("pk"):
        twin(run, room=twins.rooms[run.room_id])
