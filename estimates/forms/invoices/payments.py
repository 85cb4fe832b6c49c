"""The form of a payment."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from estimates.models import PaidBy
from jobs.forms.base import NumberField, OnceForm, text_field

MOST = Decimal(9_999_999)


class PaymentForm(OnceForm):
    """Money that came for an invoice."""

    received_on = forms.DateField(
        label="Received on", widget=forms.DateInput(attrs={"type": "date"})
    )
    way = forms.ChoiceField(label="Paid by", choices=PaidBy.choices)
    amount = NumberField(label="Amount", least=Decimal("0.01"), most=MOST)
    note = text_field("Note, such as the number of the check", 200)

    # Any: Django's own arguments, handed on as they came.
    def __init__(self, *args: Any, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today

    def clean_received_on(self) -> date:
        """Refuse a day that has not come yet."""
        day: date = self.cleaned_data["received_on"]
        if day > self.today:
            accepted = f"accepted: up to {self.today.isoformat()}, today"
            raise ValidationError(f"{day.isoformat()} has not come yet; {accepted}.")
        return day
