"""Allowances as they are typed: an offer taken up, one of one's own, one changed."""

from __future__ import annotations

from decimal import Decimal

from django import forms
from django.core.exceptions import ValidationError

from estimates.domain.terms.allowances import MOST_UNITS
from estimates.domain.terms.evidence import LONGEST_EVIDENCE
from estimates.forms.fields import LARGEST_AMOUNT
from estimates.forms.job_price import PlainlyRefused
from estimates.forms.prices import FigureField, LineField
from estimates.models import JobAllowance
from estimates.readers.allowances import AllowanceOffer
from jobs.domain.checks import ZERO
from jobs.forms.base import Cleaned, Data, OnceForm, VersionedForm

COST_PLACES = 4


class CapFields(PlainlyRefused, OnceForm):
    """How many units at most, at what price each, and on what that stands."""

    # Not called `units`: the form itself keeps the unit system under that name.
    cap = FigureField(
        label="At most",
        places=2,
        most=MOST_UNITS,
        error_messages={"required": "Nothing was typed; accepted: the most units, such as 4."},
    )
    unit_price = FigureField(label="Price of one", places=2, most=LARGEST_AMOUNT, required=False)
    evidence = LineField(
        label="Evidence",
        most=LONGEST_EVIDENCE,
        widget=forms.Textarea(attrs={"rows": 2}),
        error_messages={
            "required": "Nothing was typed; accepted: what was seen, or why nobody can count it."
        },
    )

    def clean_cap(self) -> Decimal:
        """Return the cap. Raises ValidationError for none at all."""
        cap: Decimal = self.cleaned_data["cap"]
        if not cap:
            raise ValidationError("“0” can't be used; accepted: more than 0.")
        return cap


class OfferForm(CapFields):
    """An offer with its cap: what one costs follows from the book, its price may be typed."""

    def __init__(self, offer: AllowanceOffer, data: Data = None) -> None:
        self.offer = offer
        price = None if offer.cost.lacking else offer.price
        cap = "" if offer.units is None else plain_units(offer.units)
        initial = {"cap": cap, "unit_price": price, "evidence": offer.evidence}
        super().__init__(data, prefix=offer.kind, initial=initial)
        self.fields["cap"].widget.attrs["aria-label"] = f"At most: {offer.label}"
        self.fields["unit_price"].label = f"Price of one, {offer.per_one}"

    def clean(self) -> Cleaned:
        """Refuse a unit without a price where the book has none to put the margin on."""
        cleaned = super().clean() or {}
        if cleaned.get("unit_price") is None and self.offer.cost.lacking:
            said = "Nothing was typed; accepted: a price, since the book has none for the material."
            self.add_error("unit_price", said)
        return cleaned


class AllowanceFields(CapFields):
    """An allowance in full: also what it is, its unit, and what one costs."""

    field_order = ("label", "cap", "unit", "unit_cost", "unit_price", "taxable", "evidence")
    label = LineField(label="What", most=120)
    unit = LineField(label="Unit", most=20)
    unit_cost = FigureField(
        label="Cost of one", places=COST_PLACES, most=LARGEST_AMOUNT, required=False
    )
    taxable = forms.BooleanField(label="Taxable", required=False)

    def clean_unit_cost(self) -> Decimal:
        """Return what one costs; nothing where nothing was typed."""
        return self.cleaned_data["unit_cost"] or ZERO

    def clean(self) -> Cleaned:
        """Refuse a unit at the margin that costs nothing: it would have no price."""
        cleaned = super().clean() or {}
        costs = cleaned.get("unit_cost")
        if not self.errors and not costs and cleaned["unit_price"] is None:
            said = "Nothing was typed; accepted: a price, or a cost that the margin is put on."
            self.add_error("unit_price", said)
        return cleaned


class NewAllowanceForm(AllowanceFields):
    """An allowance that is added by hand."""


class AllowanceForm(VersionedForm, AllowanceFields):
    """An allowance of the job, changed where it stands."""


SHOWN = ("label", "unit", "unit_cost", "unit_price", "taxable", "evidence")


def plain_units(units: Decimal) -> str:
    """Return a cap as people write it: 4, and not 4.00."""
    return f"{units.normalize():f}"


def allowance_form(row: JobAllowance, data: Data = None) -> AllowanceForm:
    """Return the form of an allowance, under a prefix of its own."""
    initial = {name: getattr(row, name) for name in SHOWN} | {"cap": plain_units(row.units)}
    return AllowanceForm(data, version=row.version, prefix=f"allowance{row.pk}", initial=initial)


def new_allowance_form(data: Data = None) -> NewAllowanceForm:
    """Return the form of an allowance that is added by hand."""
    return NewAllowanceForm(data, prefix="new")
