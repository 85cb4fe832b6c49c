"""The forms of notes and photographs of a room."""

from __future__ import annotations

from typing import BinaryIO, Unpack, cast

from django import forms
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import UploadedFile

from jobs.forms.base import Cleaned, Data, Files, FormOptions, OnceForm, VersionedForm, text_field
from jobs.models import RoomNote
from jobs.services.log import Photo

MOST_PHOTOS = 10
PICTURES = {"accept": "image/jpeg,image/png,image/webp"}
"""What a field of photographs lets somebody pick."""


class PhotosInput(forms.FileInput):
    """A field of files that takes several at once."""

    allow_multiple_selected = True


class PhotosField(forms.FileField):
    """Several photographs; cleans to a list of them."""

    def clean(self, data: object, initial: object = None) -> list[Photo]:
        """Return the photographs. Refuses more than a few."""
        sent = data if isinstance(data, list | tuple) else [data]
        uploads = [one for one in sent if isinstance(one, UploadedFile)]
        if len(uploads) > MOST_PHOTOS:
            message = f"{len(uploads)} photographs are too many; accepted: up to {MOST_PHOTOS}."
            raise ValidationError(message)
        for upload in uploads:
            super().clean(upload, initial)
        return [photo_of(upload) for upload in uploads]


def photo_of(upload: UploadedFile[bytes]) -> Photo:
    """Return a photograph as it was sent."""
    name = upload.name or "photo"
    return Photo(upload=cast(BinaryIO, upload.file), size=upload.size or 0, name=name)


def _values(data: Cleaned) -> dict[str, object]:
    text = str(data["text"]).strip()
    return {"text": text, "for_packet": data["for_packet"], "for_quote": data["for_quote"]}


class NoteForm(VersionedForm):
    """What a note says, and whom it is offered to."""

    text = text_field("Note, or what the photograph shows", RoomNote.LONGEST, rows=3)
    for_packet = forms.BooleanField(label="Show it to the crew", required=False)
    for_quote = forms.BooleanField(label="Offer it to the quote", required=False)

    @property
    def values(self) -> dict[str, object]:
        """The cleaned values under the names of the note's fields."""
        return _values(self.cleaned_data)


class NewNotesForm(OnceForm):
    """A note of a room, photographs, or both; each photograph becomes a note of its own."""

    text = text_field("Note, or what the photographs show", RoomNote.LONGEST, rows=3)
    photos = PhotosField(
        label="Photographs",
        required=False,
        widget=PhotosInput(attrs={**PICTURES}),
        help_text=f"Up to {MOST_PHOTOS}: JPEG, PNG or WebP. Place and time are removed from them.",
    )
    for_packet = forms.BooleanField(label="Show it to the crew", required=False)
    for_quote = forms.BooleanField(label="Offer it to the quote", required=False)

    def __init__(
        self, data: Data = None, files: Files = None, **options: Unpack[FormOptions]
    ) -> None:
        super().__init__(data, files, **options)

    def clean(self) -> Cleaned:
        """Refuse a note that says nothing."""
        data = super().clean() or self.cleaned_data
        if not self.errors and not (data["text"].strip() or data["photos"]):
            self.add_error("text", "Nothing was noted; accepted: words, a photograph, or both.")
        return data

    @property
    def values(self) -> dict[str, object]:
        """The cleaned values under the names of the note's fields."""
        return _values(self.cleaned_data)
