"""What one job's price has of its own, typed on the price page: discount, tax, lines."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import TypeVar

from django import forms
from django.core.exceptions import ValidationError

from estimates.forms.fields import (
    LARGEST_AMOUNT,
    LARGEST_QUANTITY,
    TAX_PERCENTS,
    tax_percents,
    tax_refused,
)
from estimates.forms.prices import FigureField, LineField, refusal
from estimates.models import JobLine, JobPrice, JobTax, Rounding, TaxMode
from jobs.domain.checks import ZERO, BadValueError
from jobs.forms.base import Cleaned, Data, NumberField, OnceForm, PlainForm, VersionedForm
from jobs.models.base import Values

T = TypeVar("T")
COMPANY_TAX = ("", "As the price terms say")


class PlainlyRefused(PlainForm):
    """A form whose service is refused at the field, in a sentence without the field's code."""

    def carry_out(self, write: Callable[[], T]) -> T | None:
        """Return what ``write`` returns, or None where it refused; the form then says why."""

        def said() -> T:
            try:
                return write()
            except BadValueError as bad:
                if bad.field not in self.fields:
                    raise
                raise ValidationError({bad.field: refusal(bad)}) from None

        return super().carry_out(said)


class AdjustForm(PlainlyRefused, VersionedForm):
    """Discount, rounding and labor only."""

    discount_percent = NumberField(
        label="Discount, %", least=ZERO, most=Decimal(100), required=False
    )
    discount_amount = FigureField(
        label="or an amount", places=2, most=LARGEST_AMOUNT, required=False
    )
    discount_reason = LineField(
        label="Reason for the discount", most=120, required=False, help_text="Printed on the quote."
    )
    round_to = forms.TypedChoiceField(
        label="Round the price",
        choices=Rounding.choices,
        coerce=int,
        help_text="The price before sales tax.",
    )
    labor_only = forms.BooleanField(
        label="Labor only: the client buys all material", required=False
    )

    def clean(self) -> Cleaned:
        """Refuse a discount said in two ways, or without a reason."""
        cleaned = super().clean() or {}
        for name in ("discount_percent", "discount_amount"):
            cleaned[name] = cleaned.get(name) or ZERO
        amount, part = cleaned["discount_amount"], cleaned["discount_percent"]
        if amount and part:
            said = "Both were typed; accepted: a percentage or an amount."
            self.add_error("discount_amount", said)
        if (amount or part) and not cleaned.get("discount_reason"):
            said = "Nothing was typed; accepted: why, such as a second job."
            self.add_error("discount_reason", said)
        return cleaned


class TaxFields(PlainlyRefused):
    """State, county and city, refused together above what tax can be."""

    state_percent, county_percent, city_percent = tax_percents()
    labor_taxed = forms.BooleanField(label="Labor on the bill is taxed too", required=False)

    def clean(self) -> Cleaned:
        """Refuse rates that come to more than tax can be."""
        cleaned = super().clean() or {}
        if said := tax_refused(cleaned):
            self.add_error("state_percent", said)
        return cleaned


class JobTaxForm(TaxFields, VersionedForm):
    """Sales tax of one job; a job without a mode of its own is taxed as the price terms say."""

    field_order = ("tax_mode", *TAX_PERCENTS, "labor_taxed", "certificate")
    tax_mode = forms.ChoiceField(
        label="Sales tax", choices=[COMPANY_TAX, *TaxMode.choices], required=False
    )
    certificate = LineField(label="Certificate number, where exempt", most=60, required=False)

    def clean(self) -> Cleaned:
        """Refuse an exemption without its certificate."""
        cleaned = super().clean() or {}
        if cleaned.get("tax_mode") == TaxMode.EXEMPT and not cleaned.get("certificate"):
            said = "Nothing was typed; accepted: the number of the client's certificate."
            self.add_error("certificate", said)
        return cleaned


class LineFields(PlainlyRefused, OnceForm):
    """A line of one's own: what, how many, what one costs and is sold for."""

    label = LineField(label="What", most=120)
    quantity = FigureField(label="Quantity", places=2, most=LARGEST_QUANTITY)
    unit = LineField(label="Unit", most=20)
    unit_cost = FigureField(label="Cost of one", places=2, most=LARGEST_AMOUNT, required=False)
    unit_price = FigureField(label="Price of one", places=2, most=LARGEST_AMOUNT, required=False)
    taxable = forms.BooleanField(label="Taxable", required=False)

    def clean_quantity(self) -> Decimal:
        """Return the quantity. Raises ValidationError for none of it."""
        quantity: Decimal = self.cleaned_data["quantity"]
        if not quantity:
            raise ValidationError("“0” can't be used; accepted: more than 0.")
        return quantity

    def clean_unit_cost(self) -> Decimal:
        """Return what one costs; nothing where nothing was typed."""
        return self.cleaned_data["unit_cost"] or ZERO

    def clean(self) -> Cleaned:
        """Refuse a line at the margin that costs nothing: it would have no price."""
        cleaned = super().clean() or {}
        if not self.errors and not cleaned["unit_cost"] and cleaned["unit_price"] is None:
            said = "Nothing was typed; accepted: a price, or a cost that the margin is put on."
            self.add_error("unit_price", said)
        return cleaned


class NewLineForm(LineFields):
    """A line that is added to the price."""


class JobLineForm(VersionedForm, LineFields):
    """A line of the price, changed where it stands."""


def line_form(row: JobLine, data: Data = None) -> JobLineForm:
    """Return the form of a line, under a prefix of its own."""
    names = ("label", "quantity", "unit", "unit_cost", "unit_price", "taxable")
    initial = initial_values(row, names)
    return JobLineForm(data, version=row.version, prefix=f"line{row.pk}", initial=initial)


def new_line_form(data: Data = None) -> NewLineForm:
    """Return the form of a line that is added."""
    return NewLineForm(data, prefix="new", initial={"quantity": "1", "unit": "job"})


def adjust_form(row: JobPrice, data: Data = None) -> AdjustForm:
    """Return the form of a job's discount and rounding; nothing off is an empty field."""
    names = ("discount_reason", "round_to", "labor_only")
    initial = dict(initial_values(row, names))
    for name in ("discount_percent", "discount_amount"):
        initial[name] = getattr(row, name) or None
    return AdjustForm(data, version=row.version, prefix="adjust", initial=initial)


def job_tax_form(row: JobTax, data: Data = None) -> JobTaxForm:
    """Return the form of a job's tax."""
    names = ("tax_mode", *TAX_PERCENTS, "labor_taxed", "certificate")
    initial = initial_values(row, names)
    return JobTaxForm(data, version=row.version, prefix="tax", initial=initial)


def initial_values(row: JobLine | JobPrice | JobTax, names: tuple[str, ...]) -> Values:
    """Return fields of a row as they are shown: figures without zeros that say nothing."""
    values = {name: getattr(row, name) for name in names}
    return {
        name: f"{Decimal(value).normalize():f}" if name.endswith("_percent") else value
        for name, value in values.items()
    }
