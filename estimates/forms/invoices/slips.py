"""The form that the occupant signs on the phone."""

from __future__ import annotations

from django import forms

from estimates.domain.invoices.slip import DONE_WORDS
from estimates.forms.fields import person_name
from jobs.forms.base import OnceForm, text_field


class SlipForm(OnceForm):
    """The occupant's word: what is still to be done, the tick, the typed name."""

    open_points = text_field("Still to be done", 1000, rows=3)
    done = forms.BooleanField(
        label=DONE_WORDS,
        error_messages={"required": "Tick the box to sign; without it nothing is signed."},
    )
    name = forms.CharField(label="Your name", max_length=120)

    def clean_name(self) -> str:
        """Refuse what is no name."""
        return person_name(self.cleaned_data["name"])
