"""The forms of prices: a new one, a row of the book, missing ones answered, and the price terms."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Unpack

from django import forms
from django.core.exceptions import ValidationError

from estimates.domain.book.cells import number_in, one_line
from estimates.domain.book.groups import GROUPS, is_loose
from estimates.domain.book.packs import LARGEST_COVER, LONGEST_PACK, PackPrice
from estimates.domain.book.rows import FIRST_DAY, LAST_DAY, LIMITS
from estimates.domain.book.sheet import COVER_PLACES, PRICE_PLACES
from estimates.forms.fields import LARGEST_AMOUNT, MATERIALS, percent, tax_percents, tax_refused
from estimates.models import COMPANY_TAX_MODES, PricedBy, PriceItem, TaxRounding
from estimates.readers.price_rows import price_in
from jobs.domain.checks import BadValueError
from jobs.domain.figures import unit_sign
from jobs.domain.quantities import CATALOG
from jobs.forms.base import Cleaned, Data, FieldOptions, FormOptions, OnceForm, VersionedForm
from jobs.models.base import Values
from jobs.services.records import StaleError

TAXED = "Taxable"
_LABELS = dict(MATERIALS)
GROUPED = tuple(
    (group, tuple((code, _LABELS[code]) for code in codes)) for group, codes in GROUPS.items()
)
PER = (("pack", "whole pack"), ("measure", "ft², ft or piece"))


class FigureField(forms.CharField):
    """An amount or a size as it is typed: digits and a point, of so many places at most."""

    def __init__(
        self, *, places: int, most: Decimal | int, **options: Unpack[FieldOptions]
    ) -> None:
        super().__init__(max_length=16, **options)
        self.widget.attrs |= {"inputmode": "decimal", "autocomplete": "off"}
        self.places, self.most = places, most

    def prepare_value(self, value: object) -> object:
        """Return text for the control: typed text as it is, a number as people write it."""
        if isinstance(value, Decimal):
            short = value.normalize()
            return f"{short if short.as_tuple().exponent < -2 else round(value, 2):f}"  # type: ignore[operator]
        return value

    def clean(self, value: object) -> Decimal | None:
        """Return the number. Raises ValidationError with the value and what is accepted."""
        text = super().clean(value)
        if not text:
            return None
        try:
            number = number_in(text, places=self.places)
        except BadValueError as bad:
            raise ValidationError(f"“{text}” can't be used; accepted: {bad.accepted}.") from None
        if number > self.most:
            raise ValidationError(f"“{text}” can't be used; accepted: up to {self.most:,}.")
        return number


class LineField(forms.CharField):
    """A short text on one line."""

    def __init__(self, *, most: int, **options: Unpack[FieldOptions]) -> None:
        super().__init__(max_length=most, **options)

    def to_python(self, value: object) -> str:
        """Return the text, with a blank for every tab and line end."""
        return one_line(super().to_python(value) or "")


def price_field(*, required: bool = True) -> FigureField:
    """Return the field of a price."""
    return FigureField(label="Price", places=PRICE_PLACES, most=LARGEST_AMOUNT, required=required)


def covers_field() -> FigureField:
    """Return the field of what a pack covers or holds."""
    return FigureField(
        label="A pack covers or holds", places=COVER_PLACES, most=LARGEST_COVER, required=False
    )


def _day(label: str) -> forms.DateField:
    bounds = {"min": FIRST_DAY.isoformat(), "max": LAST_DAY.isoformat()}
    return forms.DateField(label=label, widget=forms.DateInput(attrs={"type": "date"} | bounds))


def _optional(label: str, name: str, help_text: str = "") -> LineField:
    return LineField(label=label, most=LIMITS[name], required=False, help_text=help_text)


def refusal(bad: BadValueError) -> str:
    """Return what is said at a field of a price that can't be priced so."""
    value = "Nothing was typed" if bad.value in (None, "") else f"“{bad.value}” can't be used"
    return f"{value}; accepted: {bad.accepted}."


def say_packs(form: forms.Form, price: PackPrice) -> None:
    """Let a form's `per` and `covers` be said in the pack and the measure of this price."""
    pack = price.pack or "pack"
    words = [("pack", pack), ("measure", unit_sign(price.measure))]
    form.fields["per"] = forms.ChoiceField(label="For one", choices=words)
    form.fields["covers"].label = f"A {pack} {'covers' if price.measure == 'ft2' else 'holds'}"


def name_fields(form: forms.Form, thing: str) -> None:
    """Let every field of a row be heard with what it is of: a table has many of its kind."""
    for name in ("amount", "per", "covers", "effective_from", "still"):
        if name in form.fields:
            field = form.fields[name]
            field.widget.attrs["aria-label"] = f"{field.label}: {thing}"


class PackFields(OnceForm):
    """What every form of a price asks: figures, pack, day, where it comes from, tax."""

    amount = price_field()
    per = forms.ChoiceField(label="For one", choices=PER)
    covers = covers_field()
    effective_from = _day("In force from")
    pack = LineField(label="Pack", most=LONGEST_PACK, required=False)
    supplier = _optional("Supplier", "supplier")
    our_code = _optional("Our own code", "our_code")
    tax_class = _optional("Tax class", "tax_class", "As your tax table names it.")
    taxable = forms.BooleanField(label=TAXED, required=False, initial=True)
    special_order = forms.BooleanField(label="Special order", required=False)
    returnable = forms.BooleanField(
        label="Full packs can be returned", required=False, initial=True
    )

    @property
    def details_refused(self) -> bool:
        """Whether something was refused that stands behind "More"."""
        return bool(
            self.errors.keys()
            - {"amount", "per", "covers", "effective_from", "code", "item", "__all__"}
        )

    def code_typed(self) -> str:
        """Return the material that is priced; empty where none was chosen."""
        return str(self.cleaned_data.get("code", ""))

    def clean(self) -> Cleaned:
        """Refuse a price whose pack or coverage is missing, at the field that is missing."""
        cleaned = super().clean() or {}
        code = self.code_typed()
        if not code or self.errors:
            return cleaned
        if not is_loose(code):
            cleaned["pack"] = CATALOG[code].unit
        figures = {name: cleaned[name] for name in ("amount", "per", "pack", "covers")}
        try:
            PackPrice(code=code, **figures)
        except BadValueError as bad:
            self.add_error(bad.field, refusal(bad))
        return cleaned

    @property
    def values(self) -> Values:
        """The cleaned values under the names of the price's fields."""
        return {name: self.cleaned_data[name] for name in PackFields.base_fields if name != "key"}


class PriceForm(PackFields):
    """A price of something new in the book, or of something in it from another day on."""

    field_order = ("code", "item", "amount", "per", "covers", "effective_from")
    code = forms.ChoiceField(label="Material", choices=GROUPED)
    item = LineField(
        label="Only for",
        most=LIMITS["item"],
        required=False,
        help_text="A product or profile by its name; empty: for any.",
    )

    @property
    def values(self) -> Values:
        """The cleaned values under the names of the price's fields."""
        entry = CATALOG[self.cleaned_data["code"]]
        named = {name: self.cleaned_data[name] for name in ("code", "item")}
        kind = {"label": entry.label, "unit": entry.unit, "kind": "material"}
        return {**super().values, **named, **kind}


class PriceRowForm(VersionedForm, PackFields):
    """A row of the book, changed where it stands; `row` is the price that the person saw."""

    label = LineField(label="Name", most=LIMITS["label"])
    row = forms.IntegerField(min_value=1, widget=forms.HiddenInput)

    def __init__(self, row: PriceItem, data: Data = None, **options: Unpack[FormOptions]) -> None:
        super().__init__(data, version=row.version, **options)
        self.code = row.code
        price = price_in(row)
        say_packs(self, price)
        if not is_loose(row.code):
            del self.fields["pack"]
        name_fields(self, f"{row.label}, {row.item}" if row.item else row.label)

    def code_typed(self) -> str:
        """Return the material of the row."""
        return self.code

    @property
    def values(self) -> Values:
        """The cleaned values under the names of the price's fields."""
        names = {*PackFields.base_fields, "label"} - {"key"}
        return {name: self.cleaned_data[name] for name in names}

    def _note_overtaken(self, stale: StaleError) -> None:
        """Say what changed; the next sending is about the price that stands now."""
        super()._note_overtaken(stale)
        self.data[self.add_prefix("row")] = str(stale.current.pk)  # type: ignore[index]


def initial_row(row: PriceItem, today: date) -> dict[str, object]:
    """Return a row as a form's initial values; a changed price counts from today on."""
    price = price_in(row)
    names = ("supplier", "our_code", "tax_class", "taxable", "special_order", "returnable", "label")
    return {name: getattr(row, name) for name in names} | {
        "row": row.pk,
        "amount": price.amount,
        "per": price.per,
        "covers": price.covers,
        "pack": price.pack,
        "effective_from": max(today, row.effective_from).isoformat(),
    }


class TermsForm(VersionedForm):
    """How cost becomes price."""

    burdened_rate = forms.DecimalField(
        label="Labor rate, with burden",
        min_value=1,
        max_value=999,
        decimal_places=2,
        help_text="Wage with taxes, insurance and benefits; one rate for the whole company.",
    )
    overhead_percent = percent("Overhead on cost, %", 200)
    margin_percent = percent("Margin on price, %", 94)
    minimum_charge = forms.DecimalField(
        label="Minimum charge", min_value=0, max_value=LARGEST_AMOUNT, decimal_places=2
    )
    method = forms.ChoiceField(
        label="Jobs are priced by",
        choices=PricedBy.choices,
        help_text="A single job may be priced the other way.",
    )
    tax_mode = forms.ChoiceField(
        label="Sales tax",
        choices=COMPANY_TAX_MODES,
        help_text="Rowbook adds up what you choose; which of it is due, your state says.",
    )
    state_percent, county_percent, city_percent = tax_percents()
    labor_taxed = forms.BooleanField(label="Labor on the bill is taxed too", required=False)
    tax_basis = forms.ChoiceField(
        label="Sales tax is rounded",
        choices=TaxRounding.choices,
        required=False,
        help_text="Half a cent goes up. Your state lets you choose, or says which.",
    )
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

    def clean(self) -> Cleaned:
        """Refuse rates that come to more than tax can be."""
        cleaned = super().clean() or {}
        if said := tax_refused(cleaned):
            self.add_error("state_percent", said)
        if "tax_basis" not in self.errors:
            cleaned["tax_basis"] = cleaned.get("tax_basis") or TaxRounding.INVOICE
        return cleaned
