"""The reason for which a conflict of the crew board stays."""

from __future__ import annotations

from django import forms

from jobs.forms.base import PlainForm
from jobs.models import KeptConflict


class KeepForm(PlainForm):
    """Which conflict stays, and why."""

    conflict = forms.CharField(widget=forms.HiddenInput, max_length=200)
    reason = forms.CharField(
        label="Why it stays",
        max_length=KeptConflict.LONGEST,
        error_messages={
            "required": "Nothing was typed; accepted: why the conflict stays, in a few words."
        },
    )
