"""Forms of prices, terms, quotes, acceptance, purchases and change orders."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from estimates.models import TaxMode
from estimates.purchasing import OTHER
from jobs.forms.base import NumberField, OnceForm, PlainForm, VersionedForm
from jobs.quantities import CATALOGUE

MATERIALS = tuple(
    (code, f"{entry.label}, per {entry.unit}".replace("per each", "each").replace("ft2", "ft²"))
    for code, entry in CATALOGUE.items()
    if entry.kind == "material"
)
LARGEST_AMOUNT = 99_999
LARGEST_QUANTITY = Decimal(99_999)


class PriceForm(OnceForm):
    """What one unit of a material costs us, from a day on."""

    code = forms.ChoiceField(label="Material", choices=MATERIALS)
    item = forms.CharField(
        label="Only for",
        max_length=120,
        required=False,
        help_text="A product or profile by its name; empty: for any.",
    )
    amount = forms.DecimalField(
        label="Price of one", min_value=0, max_value=LARGEST_AMOUNT, decimal_places=2
    )
    taxable = forms.BooleanField(label="Taxable", required=False, initial=True)
    effective_from = forms.DateField(
        label="In force from", widget=forms.DateInput(attrs={"type": "date"})
    )

    @property
    def values(self) -> dict[str, Any]:
        """The cleaned values under the names of the price's fields."""
        entry = CATALOGUE[self.cleaned_data["code"]]
        told = {name: self.cleaned_data[name] for name in ("code", "item", "amount", "taxable")}
        return told | {
            "label": entry.label,
            "unit": entry.unit,
            "kind": "material",
            "effective_from": self.cleaned_data["effective_from"],
        }


def _percent(label: str, most: int, places: int = 2) -> forms.DecimalField:
    return forms.DecimalField(label=label, min_value=0, max_value=most, decimal_places=places)


class TermsForm(VersionedForm):
    """How cost becomes price."""

    burdened_rate = forms.DecimalField(
        label="Burdened labor, an hour",
        min_value=1,
        max_value=999,
        decimal_places=2,
        help_text="Wage with taxes, insurance and benefits; one rate for the whole company.",
    )
    overhead_percent = _percent("Overhead on cost, %", 200)
    margin_percent = _percent("Margin on price, %", 94)
    minimum_charge = forms.DecimalField(
        label="Least charge for a job", min_value=0, max_value=LARGEST_AMOUNT, decimal_places=2
    )
    tax_mode = forms.ChoiceField(label="Sales tax", choices=TaxMode.choices)
    tax_percent = _percent("Tax rate, %", 40, places=3)
    deposit_percent = _percent("Deposit, %", 100)
    valid_days = forms.IntegerField(label="Quote valid, days", min_value=1, max_value=365)
    terms = forms.CharField(
        label="Terms", required=False, max_length=4000, widget=forms.Textarea(attrs={"rows": 5})
    )
    exclusions = forms.CharField(
        label="Not included",
        required=False,
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 5}),
    )


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
        return _name(self.cleaned_data["name"])


class RecordAcceptanceForm(AcceptForm):
    """The client's word given on the phone or on paper, recorded by the office."""

    name = forms.CharField(label="Who accepted", max_length=120)
    read = forms.BooleanField(
        label="The client has read the quote and accepts it.",
        error_messages={"required": "Tick the box once the client has accepted."},
    )


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

    def clean(self) -> dict[str, Any]:
        """Take name and unit from the catalogue where none was typed; others need their own."""
        told: dict[str, Any] = super().clean() or {}
        entry = CATALOGUE.get(told.get("code", ""))
        for name in ("label", "unit"):
            if told.get(name) or "code" not in told or name in self.errors:
                continue
            if entry is None:
                self.add_error(name, f"Nothing was typed; accepted: {_OTHERS_NEED[name]}.")
            else:
                told[name] = getattr(entry, name)
        return told


_OTHERS_NEED = {
    "label": "what it is called, as on the receipt",
    "unit": "the unit it was bought by, such as each or bag",
}


class ChangeForm(OnceForm):
    """The word on a change of scope: its price and who agreed."""

    amount = NumberField(
        label="Change of price, before sales tax", least=-LARGEST_QUANTITY, most=LARGEST_QUANTITY
    )
    agreed_by = forms.CharField(label="Agreed by", max_length=120)
    seen = forms.CharField(max_length=64, widget=forms.HiddenInput)

    def clean_agreed_by(self) -> str:
        """Refuse what is no name."""
        return _name(self.cleaned_data["agreed_by"])


def _name(typed: str) -> str:
    """Return the name of a person. Raises ValidationError for what can't be one."""
    name = typed.strip()
    if sum(letter.isalpha() for letter in name) < 2:
        message = f"“{name}” is no name; accepted: first and last name."
        raise ValidationError(message)
    return name
