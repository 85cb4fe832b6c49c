"""The form that takes learned rates: which of them, and what was seen."""

from __future__ import annotations

from collections.abc import Iterable
from typing import cast

from django import forms

from jobs.forms.base import Data, OnceForm


class TakeRatesForm(OnceForm):
    """The rates that are to count from now on, of those that are proposed."""

    seen = forms.CharField(max_length=64, widget=forms.HiddenInput)
    rates = forms.MultipleChoiceField(
        label="Rates to take",
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": "No rate is ticked; accepted: one or more of those below."},
    )

    def __init__(
        self,
        data: Data = None,
        *,
        seen: str,
        proposed: Iterable[tuple[str, str]],
    ) -> None:
        choices = list(proposed)
        super().__init__(data, initial={"seen": seen, "rates": [name for name, _ in choices]})
        cast(forms.MultipleChoiceField, self.fields["rates"]).choices = choices

    @property
    def ticked(self) -> frozenset[str]:
        """The names of the rates that stand ticked."""
        value = self["rates"].value() or []
        return frozenset(value)
