"""The form of extra work."""

from __future__ import annotations

from decimal import Decimal

from django import forms

from jobs.forms.base import NumberField, OnceForm, text_field
from jobs.forms.notes import PICTURES, photo_of
from jobs.models import JobExtra
from jobs.services.log import Photo

MOST_HOURS = Decimal(200)


class ExtraForm(OnceForm):
    """What somebody wants beyond what was agreed, or what turned up."""

    text = text_field("What is wanted, or what was seen", JobExtra.LONGEST, rows=3, required=True)
    asked_by = forms.CharField(
        label="Who wants it",
        max_length=120,
        required=False,
        help_text="The name of whoever said so. Empty where it was only seen.",
    )
    hours = NumberField(
        label="About how many man-hours",
        least=Decimal("0.25"),
        most=MOST_HOURS,
        required=False,
        help_text="As you would guess. The office prices it.",
    )
    photo = forms.FileField(
        label="Photograph",
        required=False,
        widget=forms.FileInput(attrs={**PICTURES}),
        help_text="JPEG, PNG or WebP. Place and time of the picture are removed from it.",
    )

    @property
    def picture(self) -> Photo | None:
        """The photograph that was sent, None without one."""
        upload = self.cleaned_data.get("photo")
        return photo_of(upload) if upload else None
