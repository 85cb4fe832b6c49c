"""The forms on the office's page of a quote."""

from __future__ import annotations

import re

from django import forms
from django.core.exceptions import ValidationError
from django.core.validators import validate_email

from estimates.services.sending.by_mail import MOST_ADDRESSES
from jobs.forms.base import OnceForm

LONGEST_ANSWER = 2000


class MailForm(OnceForm):
    """To whom a paper is mailed."""

    to = forms.CharField(
        label="To",
        max_length=600,
        widget=forms.Textarea(attrs={"rows": 2, "inputmode": "email", "autocapitalize": "off"}),
        help_text="One address a line; each gets a mail of its own.",
        error_messages={"required": "Nothing was typed; accepted: an address, one a line."},
    )

    def clean_to(self) -> list[str]:
        """Return the addresses; refuse what is none, by what was typed."""
        addresses = [part for part in re.split(r"[\s,;]+", self.cleaned_data["to"]) if part]
        if len(addresses) > MOST_ADDRESSES:
            message = f"{len(addresses)} addresses; accepted: up to {MOST_ADDRESSES}."
            raise ValidationError(message)
        for address in addresses:
            try:
                validate_email(address)
            except ValidationError:
                message = f"“{address}” is no address; accepted: one such as ines@example.com."
                raise ValidationError(message) from None
        return addresses


class TextedForm(OnceForm):
    """The word that a paper was sent from somebody's phone."""


class AnswerForm(OnceForm):
    """The answer to a homeowner's question."""

    text = forms.CharField(
        label="Answer",
        max_length=LONGEST_ANSWER,
        widget=forms.Textarea(attrs={"rows": 3}),
        error_messages={"required": "Nothing was typed; accepted: your answer in a few words."},
    )


class LinkUntilForm(OnceForm):
    """The last day on which the link opens the quote."""

    until = forms.DateField(
        label="Link works until",
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages={"required": "Nothing was typed; accepted: a day."},
    )
