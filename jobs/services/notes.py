"""Notes and photographs of rooms."""

from __future__ import annotations

from collections.abc import Sequence

from django.db import transaction

from jobs.domain.checks import BadValueError
from jobs.models import Removal, RemovedKind, Room, RoomNote, StoredFile, User
from jobs.models.base import Values
from jobs.services.archive.removals import take_out
from jobs.services.files import store_picture
from jobs.services.log import Photo
from jobs.services.records import audit_job, put_values, save_versioned, writes_once

NOTE_FIELDS = ("text", "for_quote", "for_packet")


def add_notes(
    *, room: Room, user: User, key: str, values: Values, photos: Sequence[Photo] = ()
) -> RoomNote:
    """Return the first of the new notes: one for each photograph, or one of words alone.

    Photographs are written anew before anything is kept, so that others may write meanwhile.

    Raises BadValueError for a file that is no picture, or where nothing is said at all.
    """
    if not photos and not values["text"]:
        accepted = "a note, a photograph, or both"
        raise BadValueError(field="text", value="nothing", accepted=accepted)
    company = room.job.company
    pictures = [
        store_picture(company=company, upload=photo.upload, size=photo.size, name=photo.name)
        for photo in photos
    ]
    return _write(room=room, user=user, key=key, values=values, pictures=pictures)


@writes_once(RoomNote, "add room notes")
def _write(
    *, room: Room, user: User, key: str, values: Values, pictures: Sequence[StoredFile]
) -> RoomNote:
    shown: list[StoredFile | None] = [*pictures] or [None]
    notes = [
        RoomNote.objects.create(room=room, user=user, photo=picture, **values) for picture in shown
    ]
    audit_job(job=room.job, user=user, act=f"Noted {len(notes)} in {room}")
    return notes[0]


@writes_once(RoomNote, "change room note")
def change_note(*, note: RoomNote, user: User, key: str, expected: int, values: Values) -> RoomNote:
    """Return the changed note; its photograph stays.

    Raises StaleError, or BadValueError where a note without a photograph would say nothing.
    """
    put_values(note, values)
    if note.photo is None and not note.text:
        accepted = "a text, since there is no photograph"
        raise BadValueError(field="text", value="nothing", accepted=accepted)
    save_versioned(note, expected=expected, names=NOTE_FIELDS)
    audit_job(job=note.room.job, user=user, act=f"Changed a note of {note.room}")
    return note


@transaction.atomic
def remove_note(*, note: RoomNote, user: User) -> Removal:
    """Return what is kept of a note removed; its photograph is no longer shown."""
    job = note.room.job
    audit_job(job=job, user=user, act=f"Removed a note of {note.room}")
    kind = RemovedKind.NOTE
    return take_out(note, kind=kind, company=job.company, user=user, where=str(job))
