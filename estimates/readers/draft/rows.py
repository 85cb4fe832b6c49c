"""The draft of a job's next quote, and the notes whose photographs it may show."""

from __future__ import annotations

from collections.abc import Sequence

from estimates.domain.quotes.content import QuotePhoto
from estimates.models import QuoteDraft
from jobs.models import Job, RoomNote


def draft_row(job: Job) -> QuoteDraft:
    """Return the draft of a job's next quote; an unsaved row where nobody said anything yet."""
    return QuoteDraft.objects.filter(job=job).first() or QuoteDraft(job=job)


def photos_offered(job: Job) -> list[RoomNote]:
    """Return the notes with a photograph that are offered to the quote, room by room."""
    notes = RoomNote.objects.filter(room__job=job, for_quote=True, photo__isnull=False)
    return list(notes.select_related("room", "photo").order_by("room__order", "room__pk", "pk"))


def photos_shown(draft: QuoteDraft) -> tuple[QuotePhoto, ...]:
    """Return the photographs that are ticked and still offered, four at most."""
    if not draft.photos:
        return ()
    notes: Sequence[RoomNote] = [
        note for note in photos_offered(draft.job) if note.pk in draft.photos
    ]
    return tuple(
        QuotePhoto(sha256=note.photo.sha256, caption=_caption(note))
        for note in notes[: QuoteDraft.MOST_PHOTOS]
        if note.photo is not None
    )


def _caption(note: RoomNote) -> str:
    return f"{note.room.name}: {note.text}" if note.text else note.room.name
