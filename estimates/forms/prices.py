"""The forms of prices and terms."""

from __future__ import annotations

from django import forms

from estimates.forms.fields import LARGEST_AMOUNT, MATERIALS, percent
from estimates.models import TaxMode
from jobs.domain.quantities import CATALOG
from jobs.forms.base import OnceForm, VersionedForm
from jobs.models.base import Values


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
    def values(self) -> Values:
        """The cleaned values under the names of the price's fields."""
        entry = CATALOG[self.cleaned_data["code"]]
        price = {name: self.cleaned_data[name] for name in ("code", "item", "amount", "taxable")}
        return price | {
            "label": entry.label,
            "unit": entry.unit,
            "kind": "material",
            "effective_from": self.cleaned_data["effective_from"],
        }


class TermsForm(VersionedForm):
    """How cost becomes price."""

    burdened_rate = forms.DecimalField(
        label="Burdened labor, an hour",
        min_value=1,
        max_value=999,
        decimal_places=2,
        help_text="Wage with taxes, insurance and benefits; one rate for the whole company.",
    )
    overhead_percent = percent("Overhead on cost, %", 200)
    margin_percent = percent("Margin on price, %", 94)
    minimum_charge = forms.DecimalField(
        label="Least charge for a job", min_value=0, max_value=LARGEST_AMOUNT, decimal_places=2
    )
    tax_mode = forms.ChoiceField(label="Sales tax", choices=TaxMode.choices)
    tax_percent = percent("Tax rate, %", 40, places=3)
    deposit_percent = percent("Deposit, %", 100)
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
