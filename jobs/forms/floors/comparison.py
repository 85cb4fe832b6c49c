"""What to compare a floor with, and which alternative to take."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from django import forms
from django.db.models import Q, QuerySet

from jobs.forms.base import (
    Cleaned,
    Data,
    NumberField,
    PlainForm,
    VersionedForm,
)
from jobs.forms.rows import RowsField
from jobs.models import FloorZone, Product
from jobs.services.floors.comparison import MOST


def _offered(zone: FloorZone) -> QuerySet[Product]:
    """Return the products a floor may be laid in: those on offer, and its own."""
    offered = Q(retired_at__isnull=True) | Q(pk=zone.product_id)
    return zone.job.company.products.filter(offered)


def _turn_words(turn: float) -> str:
    """Return a direction in words a person at the room understands."""
    beside = {0.0: ", along the first wall", 90.0: ", square to the first wall"}
    return f"{turn:g}°{beside.get(turn, '')}"


class CompareForm(PlainForm):
    """Products and directions; every pair of them is planned."""

    products = RowsField(
        label="Products",
        queryset=Product.objects.none(),
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": "No product is marked; accepted: one or more."},
    )
    directions = forms.MultipleChoiceField(
        label="Directions of the planks",
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": "No direction is marked; accepted: one or more."},
    )

    def __init__(self, data: Data = None, *, zone: FloorZone, directions: Sequence[float]) -> None:
        super().__init__(data, units=zone.job.units)
        products, turns = self.fields["products"], self.fields["directions"]
        if isinstance(products, forms.ModelMultipleChoiceField):
            products.queryset = _offered(zone)
        if isinstance(turns, forms.MultipleChoiceField):
            turns.choices = [(f"{turn:g}", _turn_words(turn)) for turn in directions]
        products.initial = [zone.product]
        turns.initial = [f"{turn:g}" for turn in directions]

    @property
    def turns(self) -> list[float]:
        """The directions that are marked, in degrees."""
        return [float(turn) for turn in self.cleaned_data["directions"]]

    def clean(self) -> Cleaned:
        """Refuse more pairs than a comparison takes."""
        data = super().clean() or {}
        products, turns = data.get("products"), data.get("directions")
        if products and turns and len(products) * len(turns) > MOST:
            pairs = f"{len(products)} products in {len(turns)} directions are "
            message = f"{pairs}{len(products) * len(turns)} plans; accepted: up to {MOST}."
            self.add_error("products", message)
        return data


class TakeForm(VersionedForm):
    """Takes one alternative for the floor."""

    product = forms.ModelChoiceField(
        queryset=Product.objects.none(),
        widget=forms.HiddenInput,
        error_messages={"required": "No product is named; compare again."},
    )
    direction = NumberField(widget=forms.HiddenInput, least=Decimal(-360), most=Decimal(360))

    def __init__(self, data: Data = None, *, zone: FloorZone) -> None:
        super().__init__(data, units=zone.job.units, version=zone.version)
        product = self.fields["product"]
        if isinstance(product, forms.ModelChoiceField):
            product.queryset = _offered(zone)
