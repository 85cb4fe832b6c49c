"""The form of who pays for a job."""

from __future__ import annotations

from decimal import Decimal
from typing import Unpack

from django import forms

from jobs.forms.base import (
    Data,
    NumberField,
    VersionedForm,
    VersionedOptions,
    WholeField,
    text_field,
)
from jobs.models import Client, ClientKind, Job, JobPayer, UnitPricesOf
from jobs.models.base import Values


class PayerForm(VersionedForm):
    """Who pays, under which order number, on what terms, by whose prices."""

    payer = forms.ModelChoiceField(queryset=Client.objects.none(), label="Paid by", required=False)
    new_name = text_field("Or the name of a new payer", 120)
    new_kind = forms.ChoiceField(
        label="The new payer is a",
        choices=[(kind.value, kind.label) for kind in (ClientKind.STORE, ClientKind.BUILDER)],
        initial=ClientKind.STORE,
        required=False,
    )
    order_number = text_field("Order number", 60)
    prices = forms.ChoiceField(
        label="Priced by",
        choices=UnitPricesOf.choices,
        widget=forms.RadioSelect,
        initial=UnitPricesOf.OURS,
    )
    payment_days = WholeField(
        label="Paid within, days", least=0, most=JobPayer.MOST_DAYS, required=False
    )
    retainage_percent = NumberField(
        label="Retainage, %",
        least=Decimal(0),
        most=Decimal(JobPayer.MOST_RETAINAGE),
        required=False,
        initial=Decimal(0),
        help_text="What the payer holds back of the price until the work is accepted.",
    )
    terms = text_field("Terms", 1000, rows=3)

    def __init__(self, data: Data = None, *, job: Job, **options: Unpack[VersionedOptions]) -> None:
        super().__init__(data, **options)
        payer = self.fields["payer"]
        if isinstance(payer, forms.ModelChoiceField):
            payer.queryset = job.company.clients.all()
            payer.empty_label = f"The client, {job.client}"

    def clean_retainage_percent(self) -> Decimal:
        """Return the part that is held back; nothing where nothing was typed."""
        return self.cleaned_data["retainage_percent"] or Decimal(0)

    @property
    def new_payer(self) -> Values:
        """The payer who is in no list yet; nothing where none is named."""
        name = self.cleaned_data["new_name"]
        kind = self.cleaned_data["new_kind"] or ClientKind.STORE
        return {"name": name, "kind": kind} if name else {}
