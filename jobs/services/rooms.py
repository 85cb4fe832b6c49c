"""Rooms saved as measured, and the trim that follows from them."""

from __future__ import annotations

from dataclasses import asdict

from django.db import models, transaction

from jobs.domain.lengths import mm_from, mm_in
from jobs.domain.rooms.changes import room_changes
from jobs.domain.rooms.outline import Drawn, draw_room
from jobs.domain.rooms.sides import along_wall, on_side
from jobs.domain.rooms.stored import stored_room
from jobs.domain.rooms.typed import RoomTreatment, TypedRoom
from jobs.domain.rooms.typed_lengths import MeasureError
from jobs.models import (
    Doorway,
    Job,
    Removal,
    RemovedKind,
    Room,
    User,
)
from jobs.models.base import Versioned
from jobs.readers.openings.openings import openings_of, refuse_lost
from jobs.readers.rooms import measured_of
from jobs.services.archive.removals import link_of, take_out
from jobs.services.records import audit_job, put_values, writes_once
from jobs.services.saving import save_measured
from jobs.services.trim import derive_trim

ROOM_FIELDS = (
    *("name", "measured", "outline", "holes", "edges", "misclosure_mm", "moisture", "base"),
    *("shoe", "furniture", "toilets", "appliances", "leveler_bags"),
    "appliance_clear_mm",
)
_LEADING = ("beyond_id", "beyond_wall", "beyond_offset_mm", "beyond_floor")
_DRAWN_FIELDS = ("measured", "outline", "holes", "edges", "misclosure_mm")


@writes_once(Room, "add room")
def add_room(
    *,
    job: Job,
    user: User,
    key: str,
    treatment: RoomTreatment,
    measured: TypedRoom,
    drawn: Drawn,
) -> Room:
    """Return the new room of ``job``, last in order."""
    last = job.rooms.aggregate(top=models.Max("order"))["top"]
    room = Room(job=job, order=(last or 0) + 1, **asdict(treatment))
    _put_drawing(room, measured, drawn)
    room.save(force_insert=True)
    derive_trim(job=job)
    audit_job(job=job, user=user, act=f"Measured {room}")
    return room


@writes_once(Room, "change room")
def change_room(
    *,
    room: Room,
    user: User,
    key: str,
    expected: int,
    treatment: RoomTreatment,
    measured: TypedRoom,
    drawn: Drawn,
    seen: TypedRoom | None = None,
) -> Room:
    """Return the room as measured anew, its trim derived again.

    ``seen`` is what was typed in it when the page was opened. Raises StaleError where somebody else
    saved first, telling field by field what changed; ValidationError where a doorway would no
    longer fit its wall.
    """
    job = room.job
    before = measured_of(room)

    def changes(now: Versioned) -> list[str]:
        return room_changes(seen, measured_of(now), measured) if isinstance(now, Room) else []

    put_values(room, asdict(treatment))
    _put_drawing(room, measured, drawn)
    save_measured(
        room,
        expected=expected,
        names=ROOM_FIELDS,
        system=job.units,
        silent=_DRAWN_FIELDS,
        more=changes,
    )
    _move_openings(room, before, drawn)
    refuse_lost(room)
    derive_trim(job=job)
    audit_job(job=job, user=user, act=f"Changed {room}")
    return room


@transaction.atomic
def remove_room(*, room: Room, user: User) -> Removal:
    """Return what is kept of a room removed with its doorways and trim.

    Doorways that led into it lead nowhere then.
    """
    job, leading = room.job, room.doorways_from_beyond
    links = [link_of(one, empty="beyond_id", columns=_LEADING) for one in leading.all()]
    leading.update(beyond=None, beyond_wall=None, beyond_offset_mm=None, beyond_floor=room.name)
    audit_job(job=job, user=user, act=f"Removed {room}")
    kind, company = RemovedKind.ROOM, job.company
    removal = take_out(room, kind=kind, company=company, user=user, where=str(job), links=links)
    derive_trim(job=job)
    return removal


def _put_drawing(room: Room, measured: TypedRoom, drawn: Drawn) -> None:
    """Put on a room what was typed and what was drawn from it."""
    room.measured = stored_room(measured)
    room.outline = [[x, y] for x, y in drawn.outline]
    room.holes = [
        {"kind": str(hole.kind), "ring": [[x, y] for x, y in hole.ring]} for hole in drawn.holes
    ]
    room.edges = [{"wall": side.wall, "kind": side.kind} for side in drawn.sided.sides]
    room.misclosure_mm = mm_from(drawn.misclosure, drawn.unit)


def _move_openings(room: Room, before: TypedRoom, drawn: Drawn) -> None:
    """Keep every doorway as far along its wall where the wall has more or fewer sides now."""
    try:
        old = draw_room(before, unit=drawn.unit)
    except MeasureError:
        return
    if [side.wall for side in old.sided.sides] == [side.wall for side in drawn.sided.sides]:
        return
    for seen in openings_of(room):
        if seen.wall >= len(old.outline):
            continue
        place = along_wall(old.corners, old.sided, seen.wall, mm_in(seen.offset_mm, drawn.unit))
        side = on_side(drawn.corners, drawn.sided, *place) if place else None
        if side is not None:
            prefix = seen.field_prefix
            values = {
                f"{prefix}wall": side[0],
                f"{prefix}offset_mm": mm_from(side[1], drawn.unit),
            }
            Doorway.objects.filter(pk=seen.doorway.pk).update(**values)
