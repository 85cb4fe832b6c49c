"""The forms by which a quote is issued and accepted."""

from __future__ import annotations

from django import forms

from estimates.forms.fields import person_name
from estimates.models import Quote
from jobs.forms.base import Data, OnceForm, PlainForm


class IssueForm(OnceForm):
    """The word to issue: only the key that makes it count once."""


class AcceptForm(PlainForm):
    """The homeowner's word: the name typed, and that it was read."""

    name = forms.CharField(label="Your name", max_length=120)
    read = forms.BooleanField(
        label="I have read the quote and accept it.",
        error_messages={"required": "Tick the box to accept; without it nothing is agreed."},
    )

    def clean_name(self) -> str:
        """Refuse what is no name."""
        return person_name(self.cleaned_data["name"])


class RecordAcceptanceForm(AcceptForm):
    """The client's word given on the phone or on paper, recorded by the office.

    Where the quote has several choices, which one; otherwise there is nothing to choose.
    """

    name = forms.CharField(label="Who accepted", max_length=120)
    read = forms.BooleanField(
        label="The client has read the quote and accepts it.",
        error_messages={"required": "Tick the box once the client has accepted."},
    )

    def __init__(self, data: Data = None, *, quote: Quote | None = None) -> None:
        super().__init__(data)
        rows = quote.options.all() if quote else ()
        options = [(option.key, str(option)) for option in rows]
        self.has_choices = len(options) > 1
        names = "; ".join(name for _, name in options)
        self.fields["choice"] = forms.ChoiceField(
            label="What was chosen",
            choices=options,
            required=self.has_choices,
            widget=forms.RadioSelect if self.has_choices else forms.HiddenInput,
            error_messages={"required": f"Nothing is chosen; accepted: {names}."},
        )
