"""Notes and photographs of a room: the list with its form, one changed, one removed."""

from __future__ import annotations

from django.http import Http404, HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_safe

from jobs.access import (
    SignedInRequest,
    note_for,
    office,
    signed_in,
    writable_note_for,
    writable_room_for,
)
from jobs.forms.base import files_sent, sent
from jobs.forms.notes import NewNotesForm, NoteForm
from jobs.readers.path import path_context
from jobs.services import notes as services
from jobs.services.files import serve
from jobs.views.edit_page import confirm_page, edit_page, edits, initial_of


@edits
@office
def room_notes(request: SignedInRequest, pk: int) -> HttpResponse:
    """What was noted and photographed in a room, and one more."""
    room = writable_room_for(request, pk)
    form = NewNotesForm(sent(request), files_sent(request))
    return edit_page(
        request,
        form=form,
        write=lambda: services.add_notes(
            room=room,
            user=request.user,
            key=form.once_key,
            values=form.values,
            photos=form.cleaned_data["photos"],
        ),
        done="It is noted.",
        to=lambda _: reverse("room-notes", args=[pk]),
        context=path_context(request, room.job, "Rooms")
        | {"room": room, "notes": list(room.notes.all())},
        template="jobs/notes/notes.html",
    )


@edits
@office
def room_note(request: SignedInRequest, pk: int) -> HttpResponse:
    """Change what a note says and whom it is offered to."""
    note = writable_note_for(request, pk)
    room = note.room
    initial = initial_of(note, services.NOTE_FIELDS)
    form = NoteForm(sent(request), initial=initial, version=note.version)
    to_notes = reverse("room-notes", args=[room.pk])
    return edit_page(
        request,
        form=form,
        write=lambda: services.change_note(
            note=note,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            values=form.values,
        ),
        done="The note is changed.",
        to=lambda _: to_notes,
        context=path_context(request, room.job, "Rooms") | {"room": room, "note": note},
        template="jobs/notes/note.html",
    )


@edits
@office
def room_note_remove(request: SignedInRequest, pk: int) -> HttpResponse:
    """Remove a note, after asking."""
    note = writable_note_for(request, pk)
    to_notes = reverse("room-notes", args=[note.room_id])
    return confirm_page(
        request,
        title=f"Remove a note of {note.room.name}",
        sentence=note.text or "A photograph without words.",
        consequences=["It can be brought back: at once, or later from what was removed."],
        action="Remove the note",
        write=lambda: services.remove_note(note=note, user=request.user),
        done="The note is removed.",
        to=to_notes,
        back=to_notes,
    )


@require_safe
@signed_in
def room_note_photo(request: SignedInRequest, pk: int) -> HttpResponse:
    """The photograph of a note."""
    note = note_for(request, pk)
    if note.photo is None:
        message = "This note has no photograph."
        raise Http404(message)
    return serve(note.photo)  # type: ignore[return-value]
