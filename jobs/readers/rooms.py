"""Rooms of the database as values: what was typed in one, what is done in it."""

from __future__ import annotations

from dataclasses import fields
from itertools import groupby
from typing import Literal

from jobs.domain.rooms.stored import typed_room
from jobs.domain.rooms.typed import RoomTreatment, TypedRoom
from jobs.models import Job, Room, RoomNote


def measured_of(room: Room) -> TypedRoom:
    """Return what was typed in a room. Raises BadValueError where that is in no form of ours."""
    return typed_room(room.measured)


def treatment_of(room: Room) -> RoomTreatment:
    """Return what a room is called and what is done in it."""
    return RoomTreatment(**{part.name: getattr(room, part.name) for part in fields(RoomTreatment)})


def notes_offered(job: Job, *, to: Literal["packet", "quote"]) -> list[tuple[Room, list[RoomNote]]]:
    """Return the rooms of a job of which notes are offered to the crew or the quote, with these."""
    notes = RoomNote.objects.filter(room__job=job, **{f"for_{to}": True})
    in_order = notes.select_related("room").order_by("room__order", "room__pk", "pk")
    return [(room, list(group)) for room, group in groupby(in_order, lambda note: note.room)]
