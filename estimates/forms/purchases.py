"""The form of a purchase."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any, TypeAlias, cast

from django import forms
from django.core.exceptions import ValidationError

from estimates.domain.price_book import OTHER
from estimates.forms.fields import LARGEST_QUANTITY, MATERIALS
from estimates.models import PurchaseOf
from jobs.domain.quantities import CATALOG
from jobs.forms.base import NumberField, VersionedForm
from jobs.models import Callback, Job, Product
from jobs.services.log import Photo

ProductChoice: TypeAlias = "forms.ModelChoiceField[Product]"
CallbackChoice: TypeAlias = "forms.ModelChoiceField[Callback]"

_OTHERS_NEED = {
    "label": "what it is called, as on the receipt",
    "unit": "the unit it was bought by, such as each or bag",
}


class PurchaseForm(VersionedForm):
    """Something bought for a job: what for, how much of it, and what was paid."""

    kind = forms.ChoiceField(label="What became of it", choices=PurchaseOf.choices)
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
        label="Paid or credited in all, with the tax that we bear",
        least=Decimal(0),
        most=LARGEST_QUANTITY,
        required=False,
        help_text="Empty for what is left in the attic or kept: it was paid already.",
    )
    bought_on = forms.DateField(label="On", widget=forms.DateInput(attrs={"type": "date"}))
    supplier = forms.CharField(label="Supplier", max_length=120, required=False)
    product = forms.ModelChoiceField(
        label="Flooring product",
        queryset=Product.objects.none(),
        required=False,
        empty_label="None",
    )
    lot = forms.CharField(
        label="Lot", max_length=60, required=False, help_text="As printed on the carton."
    )
    callback = forms.ModelChoiceField(
        label="For the callback",
        queryset=Callback.objects.none(),
        required=False,
        empty_label="None: for the job itself",
    )
    receipt = forms.FileField(
        label="Photograph of the receipt",
        required=False,
        help_text="JPEG, PNG or WebP, up to 15 MB. A new one takes the place of the old.",
        widget=forms.FileInput(attrs={"accept": "image/jpeg,image/png,image/webp"}),
    )
    note = forms.CharField(
        label="Note", required=False, max_length=1000, widget=forms.Textarea(attrs={"rows": 2})
    )

    # Any: Django's own arguments, handed on as they came.
    def __init__(self, *args: Any, job: Job, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today
        laid = Product.objects.filter(zones__job=job).distinct()
        cast(ProductChoice, self.fields["product"]).queryset = laid
        cast(CallbackChoice, self.fields["callback"]).queryset = job.callbacks.all()
        if not job.callbacks.exists():
            del self.fields["callback"]

    @property
    def picture(self) -> Photo | None:
        """The photograph of the receipt as it was sent; None where none was."""
        sent = self.cleaned_data.get("receipt")
        if sent is None:
            return None
        return Photo(upload=sent, size=sent.size or 0, name=sent.name or "receipt")

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
        self._check_leftover(purchase)
        entry = CATALOG.get(purchase.get("code", ""))
        for name in ("label", "unit"):
            if purchase.get(name) or "code" not in purchase or name in self.errors:
                continue
            if entry is None:
                self.add_error(name, f"Nothing was typed; accepted: {_OTHERS_NEED[name]}.")
            else:
                purchase[name] = getattr(entry, name)
        return purchase

    def _check_leftover(self, purchase: dict[str, Any]) -> None:
        """Refuse money for what is left over, and none for what was bought or returned."""
        if "kind" not in purchase or "amount" in self.errors:
            return
        left = purchase["kind"] in (PurchaseOf.ATTIC, PurchaseOf.KEPT)
        if left and purchase.get("amount"):
            shown = f"{purchase['amount']} was typed"
            self.add_error("amount", f"{shown}; accepted: nothing, what is left over was paid.")
        if not left and purchase.get("amount") is None:
            self.add_error("amount", "Nothing was typed; accepted: 0 or more.")
        if purchase["kind"] == PurchaseOf.KEPT and not purchase.get("product"):
            accepted = "accepted: the product, so that its planks are offered to another floor"
            self.add_error("product", f"None is chosen; {accepted}.")
        if purchase.get("amount") is None:
            purchase["amount"] = Decimal(0)
