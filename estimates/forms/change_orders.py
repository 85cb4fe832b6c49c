"""The form of a change order."""

from __future__ import annotations

from django import forms

from estimates.forms.fields import LARGEST_QUANTITY, person_name
from jobs.forms.base import NumberField, OnceForm


class ChangeForm(OnceForm):
    """The word on a change of scope: its price and who agreed."""

    amount = NumberField(
        label="Change of price, before sales tax", least=-LARGEST_QUANTITY, most=LARGEST_QUANTITY
    )
    agreed_by = forms.CharField(label="Agreed by", max_length=120)
    seen = forms.CharField(max_length=64, widget=forms.HiddenInput)

    def clean_agreed_by(self) -> str:
        """Refuse what is no name."""
        return person_name(self.cleaned_data["agreed_by"])
