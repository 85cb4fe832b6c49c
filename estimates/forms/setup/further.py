"""The set-up's forms that are no plain fields of a row: the logo, and a notice."""

from __future__ import annotations

from typing import BinaryIO, ClassVar, cast

from django import forms
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import UploadedFile

from estimates.services.setup.logo import KINDS_SAID, LARGEST_BYTES, logo_png
from jobs.domain.checks import BadValueError
from jobs.forms.base import NameField, VersionedForm, text_field

LONGEST_NOTICE = 4000


class LogoForm(VersionedForm):
    """A picture file; cleans to the picture written anew as PNG."""

    part: ClassVar[str] = "logo"
    title: ClassVar[str] = "Logo"

    logo = forms.FileField(
        label="Picture file",
        widget=forms.FileInput(attrs={"accept": "image/png,image/jpeg,image/webp"}),
        help_text=f"{KINDS_SAID}, up to {LARGEST_BYTES // 2**20} MB. It is printed on white.",
        error_messages={
            "required": "No file was chosen; accepted: a picture.",
            "empty": "This file is empty; accepted: a picture.",
        },
    )

    def clean_logo(self) -> bytes:
        """Return the picture as it will be kept. Refuses what is none, or too large."""
        upload: UploadedFile[bytes] = self.cleaned_data["logo"]
        name = upload.name or "file"
        try:
            return logo_png(cast(BinaryIO, upload.file), size=upload.size or 0, name=name)
        except BadValueError as bad:
            message = f"“{bad.value}” can't be a logo; accepted: {bad.accepted}."
            raise ValidationError(message) from None


class NoticeForm(VersionedForm):
    """A notice of the state: a heading with a text under it."""

    part: ClassVar[str] = "notices"
    title_of_part: ClassVar[str] = "Notices of your state"

    title = NameField(label="Heading", max_length=120)
    text = text_field("Text", LONGEST_NOTICE, rows=5, required=True)
