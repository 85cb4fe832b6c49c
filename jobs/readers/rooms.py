"""Rooms of the database as values: what was typed in one, what is done in it."""

from __future__ import annotations

from dataclasses import fields

from jobs.domain.rooms.stored import typed_room
from jobs.domain.rooms.typed import RoomTreatment, TypedRoom
from jobs.models import Room


def measured_of(room: Room) -> TypedRoom:
    """Return what was typed in a room. Raises BadValueError where that is in no form of ours."""
    return typed_room(room.measured)


def treatment_of(room: Room) -> RoomTreatment:
    """Return what a room is called and what is done in it."""
    return RoomTreatment(**{part.name: getattr(room, part.name) for part in fields(RoomTreatment)})
