"""Rooms and doorways saved, and the trim and transitions that follow from them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from django.db import models, transaction

from jobs.conflicts import measured_changes
from jobs.measuring import Drawn, MeasureError, draw_room
from jobs.models import (
    BaseTreatment,
    Doorway,
    Job,
    Room,
    Transition,
    Treatment,
    TrimKind,
    TrimRun,
    User,
)
from jobs.models.base import Versioned
from jobs.openings import openings_of, refuse_lost, refuse_misplaced
from jobs.records import audit, write_once
from jobs.services.told import save_told
from jobs.sides import along_wall, on_side
from jobs.trimming import runs_of
from jobs.words import mm_from, mm_in

ROOM_FIELDS = (
    *("name", "measured", "outline", "holes", "edges", "misclosure_mm", "moisture", "base"),
    *("shoe", "furniture", "toilets", "appliances", "leveller_bags"),
)
_DRAWN_FIELDS = ("measured", "outline", "holes", "edges", "misclosure_mm")
DOORWAY_FIELDS = (
    *("wall", "offset_mm", "width_mm", "depth_mm", "beyond", "beyond_floor", "beyond_wall"),
    *("beyond_offset_mm", "step_mm", "treatment", "casings", "doors_off"),
)


def add_room(
    *,
    job: Job,
    user: User,
    key: str,
    values: Mapping[str, Any],
    measured: Mapping[str, Any],
    drawn: Drawn,
) -> Room:
    """Return the new room of ``job``, last in order."""

    def write() -> Room:
        last = job.rooms.aggregate(top=models.Max("order"))["top"]
        room = Room(job=job, order=(last or 0) + 1, **values)
        _put_drawing(room, measured, drawn)
        room.save(force_insert=True)
        derive_trim(job=job)
        _note(room, user, "Measured")
        return room

    rows = job.rooms.all()
    return write_once(company=job.company, key=key, action="add room", rows=rows, write=write)


def change_room(
    *,
    room: Room,
    user: User,
    key: str,
    expected: int,
    values: Mapping[str, Any],
    measured: Mapping[str, Any],
    drawn: Drawn,
    seen: Mapping[str, Any] | None = None,
) -> Room:
    """Return the room as measured anew, its trim derived again.

    ``seen`` is what was typed in it when the page was opened. Raises StaleError where somebody else
    saved first, telling field by field what changed; ValidationError where a doorway would no
    longer fit its wall.
    """
    job = room.job
    before = dict(room.measured)

    def told(now: Versioned) -> list[str]:
        return measured_changes(seen, now.measured, measured) if isinstance(now, Room) else []

    def write() -> Room:
        for name, value in values.items():
            setattr(room, name, value)
        _put_drawing(room, measured, drawn)
        save_told(
            room,
            expected=expected,
            names=ROOM_FIELDS,
            system=job.units,
            silent=_DRAWN_FIELDS,
            more=told,
        )
        _move_openings(room, before, drawn)
        refuse_lost(room)
        derive_trim(job=job)
        _note(room, user, "Changed")
        return room

    rows = job.rooms.all()
    return write_once(company=job.company, key=key, action="change room", rows=rows, write=write)


@transaction.atomic
def remove_room(*, room: Room, user: User) -> None:
    """Remove a room with its doorways and trim; doorways that led into it lead nowhere then."""
    job = room.job
    room.doorways_from_beyond.update(
        beyond=None, beyond_wall=None, beyond_offset_mm=None, beyond_floor=room.name
    )
    _note(room, user, "Removed")
    room.delete()
    derive_trim(job=job)


def add_doorway(*, room: Room, user: User, key: str, values: Mapping[str, Any]) -> Doorway:
    """Return the new doorway. Raises ValidationError, by field, where it does not fit its walls."""
    job = room.job

    def write() -> Doorway:
        doorway = Doorway(room=room, **values)
        refuse_misplaced(doorway)
        doorway.save(force_insert=True)
        _follow(doorway)
        _note(room, user, f"Added a doorway in wall {doorway.wall + 1} of")
        return doorway

    rows = Doorway.objects.filter(room__job=job)
    return write_once(company=job.company, key=key, action="add doorway", rows=rows, write=write)


def change_doorway(
    *, doorway: Doorway, user: User, key: str, expected: int, values: Mapping[str, Any]
) -> Doorway:
    """Return the changed doorway. Raises StaleError, or ValidationError by field."""
    job = doorway.room.job

    def write() -> Doorway:
        for name, value in values.items():
            setattr(doorway, name, value)
        refuse_misplaced(doorway)
        save_told(doorway, expected=expected, names=DOORWAY_FIELDS, system=job.units)
        _follow(doorway)
        _note(doorway.room, user, f"Changed the doorway in wall {doorway.wall + 1} of")
        return doorway

    rows = Doorway.objects.filter(room__job=job)
    action = "change doorway"
    return write_once(company=job.company, key=key, action=action, rows=rows, write=write)


@transaction.atomic
def remove_doorway(*, doorway: Doorway, user: User) -> None:
    """Remove a doorway with its transition."""
    room = doorway.room
    _note(room, user, f"Removed the doorway in wall {doorway.wall + 1} of")
    doorway.delete()
    derive_trim(job=room.job)


@transaction.atomic
def derive_trim(*, job: Job) -> int:
    """Derive the trim runs of every room of ``job`` anew; return how many there are.

    Base is cut where it is reinstalled or replaced, shoe where it is added; both stop at openings.
    """
    TrimRun.objects.filter(room__job=job).delete()
    runs = [run for room in job.rooms.all() for run in _trim_of(room)]
    return len(TrimRun.objects.bulk_create(runs))


def _trim_of(room: Room) -> Iterator[TrimRun]:
    """Yield the unsaved trim runs of one room."""
    kinds = []
    if room.base in (BaseTreatment.REINSTALL, BaseTreatment.REPLACE):
        kinds.append(TrimKind.BASE)
    if room.shoe:
        kinds.append(TrimKind.SHOE)
    unit = room.job.unit
    ring = tuple((x, y) for x, y in room.outline)
    gaps = [opening.gap(unit) for opening in openings_of(room)]
    runs = runs_of(ring, gaps, unit=unit) if ring else []
    for kind in kinds:
        for run in runs:
            yield TrimRun(
                room=room,
                wall=run.wall,
                kind=kind,
                length_mm=mm_from(run.length, unit),
                start_end=run.start_end,
                finish_end=run.finish_end,
            )


def _put_drawing(room: Room, measured: Mapping[str, Any], drawn: Drawn) -> None:
    """Put on a room what was typed and what was drawn from it."""
    room.measured = dict(measured)
    room.outline = [[x, y] for x, y in drawn.outline]
    room.holes = [
        {"kind": str(hole.kind), "ring": [[x, y] for x, y in hole.ring]} for hole in drawn.holes
    ]
    room.edges = [{"wall": side.wall, "kind": side.kind} for side in drawn.sided.sides]
    room.misclosure_mm = mm_from(drawn.misclosure, drawn.unit)


def _move_openings(room: Room, before: Mapping[str, Any], drawn: Drawn) -> None:
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
        found = on_side(drawn.corners, drawn.sided, *place) if place else None
        if found is not None:
            prefix = seen.field_prefix
            values = {
                f"{prefix}wall": found[0],
                f"{prefix}offset_mm": mm_from(found[1], drawn.unit),
            }
            Doorway.objects.filter(pk=seen.doorway.pk).update(**values)


def _follow(doorway: Doorway) -> None:
    """Let transition and trim follow a saved doorway."""
    if doorway.treatment == Treatment.CARRY:
        Transition.objects.filter(doorway=doorway).delete()
    else:
        Transition.objects.update_or_create(
            doorway=doorway,
            defaults={
                "job": doorway.room.job,
                "profile": doorway.treatment,
                "length_mm": doorway.width_mm,
            },
        )
    derive_trim(job=doorway.room.job)


def _note(room: Room, user: User, act: str) -> None:
    subject = f"job {room.job_id}"
    audit(user=user, company=room.job.company, subject=subject, act=f"{act} {room}")
