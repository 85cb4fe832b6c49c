"""A correction of what a floor passport tells."""

from __future__ import annotations

from django import forms

from estimates.models import PassportEdition
from jobs.forms.base import PlainForm, text_field


class PassportCorrectionForm(PlainForm):
    """What the office says of a correction; ``number`` is the last edition that it saw."""

    number = forms.IntegerField(widget=forms.HiddenInput, min_value=0, max_value=10_000)
    note = text_field("What was corrected, in words", PassportEdition.LONGEST, rows=3)
