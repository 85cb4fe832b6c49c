"""What a homeowner may send from the page of a quote: acceptance, a question, a refusal."""

from __future__ import annotations

from collections.abc import Sequence

from django import forms

from estimates.domain.quotes.content import QuoteChoice
from estimates.forms.fields import person_name
from estimates.forms.quotes import AcceptForm
from jobs.forms.base import Data, PlainForm, text_field

LONGEST_WORDS = 2000


class ChooseAndAcceptForm(AcceptForm):
    """The homeowner's word; on one of the choices where there are several."""

    choice = forms.CharField(max_length=60, required=False)

    def __init__(self, data: Data = None, *, choices: Sequence[QuoteChoice]) -> None:
        super().__init__(data)
        self.choices = choices

    def clean_choice(self) -> str:
        """Return the key of what is chosen. Refuse nothing, and what isn't offered."""
        chosen = str(self.cleaned_data["choice"])
        if len(self.choices) < 2:
            return ""
        if chosen not in {way.key for way in self.choices}:
            offered = "; ".join(way.name for way in self.choices)
            said = f"“{chosen}” is none of the choices" if chosen else "Nothing is chosen yet"
            raise forms.ValidationError(f"{said}; choose one of: {offered}.")
        return chosen


class AskForm(PlainForm):
    """A question about the quote."""

    name = forms.CharField(label="Your name", max_length=120)
    text = forms.CharField(
        label="Your question",
        max_length=LONGEST_WORDS,
        widget=forms.Textarea(attrs={"rows": 4}),
        error_messages={"required": "Nothing was typed; accepted: your question in a few words."},
    )

    def __init__(self, data: Data = None) -> None:
        super().__init__(data)
        # The page has a field of this name above: each keeps a label of its own.
        self.auto_id = "ask_%s"

    def clean_name(self) -> str:
        """Refuse what is no name."""
        return person_name(self.cleaned_data["name"])


class DeclineForm(PlainForm):
    """The homeowner's no; a reason is welcome and never needed."""

    reason = text_field("Why, if you like", LONGEST_WORDS, rows=3)
