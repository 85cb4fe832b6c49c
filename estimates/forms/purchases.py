"""The form of a purchase."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from estimates.domain.price_book import OTHER
from estimates.forms.fields import LARGEST_QUANTITY, MATERIALS
from jobs.domain.quantities import CATALOG
from jobs.forms.base import NumberField, VersionedForm

_OTHERS_NEED = {
    "label": "what it is called, as on the receipt",
    "unit": "the unit it was bought by, such as each or bag",
}


class PurchaseForm(VersionedForm):
    """Something bought for a job: what for, how much of it, and what was paid."""

    code = forms.ChoiceField(label="What for", choices=(*MATERIALS, (OTHER, "Something else")))
    label = forms.CharField(
        label="Called",
        max_length=120,
        required=False,
        help_text="As on the receipt; empty: as it is called above.",
    )
    quantity = NumberField(label="Quantity", least=Decimal("0.01"), most=LARGEST_QUANTITY)
    unit = forms.CharField(
        label="Unit",
        max_length=20,
        required=False,
        help_text="Empty: the unit named above. In another unit it can't be held against the plan.",
    )
    amount = NumberField(
        label="Paid in all, with the tax that we bear", least=Decimal(0), most=LARGEST_QUANTITY
    )
    bought_on = forms.DateField(label="Bought on", widget=forms.DateInput(attrs={"type": "date"}))
    supplier = forms.CharField(label="Supplier", max_length=120, required=False)
    note = forms.CharField(
        label="Note", required=False, max_length=1000, widget=forms.Textarea(attrs={"rows": 2})
    )

    # Any: Django's own arguments, handed on as they came.
    def __init__(self, *args: Any, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today

    def clean_bought_on(self) -> date:
        """Refuse a day that has not come yet."""
        day: date = self.cleaned_data["bought_on"]
        if day > self.today:
            accepted = f"accepted: up to {self.today.isoformat()}, today"
            raise ValidationError(f"{day.isoformat()} has not come yet; {accepted}.")
        return day

    # Any: what each field cleans to, as Django's own method returns it.
    def clean(self) -> dict[str, Any]:
        """Take name and unit from the catalog where none was typed; others need their own."""
        purchase = super().clean() or {}
        entry = CATALOG.get(purchase.get("code", ""))
        for name in ("label", "unit"):
            if purchase.get(name) or "code" not in purchase or name in self.errors:
                continue
            if entry is None:
                self.add_error(name, f"Nothing was typed; accepted: {_OTHERS_NEED[name]}.")
            else:
                purchase[name] = getattr(entry, name)
        return purchase
