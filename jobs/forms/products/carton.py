"""The first step of a product: the eight things on its carton, with which it can be planned."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Unpack

from django import forms

from jobs.domain.floors.rule_sources import RULES, is_practice, rule_source
from jobs.domain.lengths import size_words
from jobs.domain.products.carton import (
    FT2_PER_M2,
    carton_ft2,
    common_carton_lb,
    coverage_bounds,
    covers_as_printed,
)
from jobs.domain.products.starting import followed_rules, starting_rules
from jobs.domain.products.weights import kilograms
from jobs.forms.base import (
    Cleaned,
    Data,
    Files,
    NameField,
    NumberField,
    TypedLength,
    VersionedForm,
    VersionedOptions,
    WholeField,
)
from jobs.forms.products.fields import (
    LEAST_LENGTH_MM,
    LEAST_THICK_MM,
    LEAST_WIDTH_MM,
    LONGEST_MM,
    THICKEST_MM,
    WIDEST_MM,
    SizeField,
    WeightField,
)
from jobs.models import Allowed, Core, Product, StaggerRule, UnitSystem
from jobs.readers.floors.rules import PARTS
from layout.values.units import IMPERIAL, unit_named

SIZES = ("length", "width", "thickness")
_PLACES = Decimal("0.0001")
PAD = (("", "Choose"), ("yes", "Yes"), ("no", "No"))


class CartonForm(VersionedForm):
    """What a carton prints. A bare number is in the units of the maker's own sheet."""

    name = NameField(label="Name", max_length=120, help_text="As the carton prints it.")
    core = forms.ChoiceField(label="Core", choices=(("", "Choose"), *Core.choices))
    length = SizeField(
        label="Plank length, laid",
        help_text="Tongue not counted.",
        least_mm=LEAST_LENGTH_MM,
        most_mm=LONGEST_MM,
    )
    width = SizeField(
        label="Plank width, laid",
        help_text="Tongue not counted.",
        least_mm=LEAST_WIDTH_MM,
        most_mm=WIDEST_MM,
    )
    thickness = SizeField(
        label="Thickness", help_text="With the pad.", least_mm=LEAST_THICK_MM, most_mm=THICKEST_MM
    )
    per_carton = WholeField(label="Planks in a carton", least=1, most=1000)
    carton_weight = WeightField(label="Carton weight", required=False)
    attached_pad = forms.ChoiceField(label="Pad on the plank", choices=PAD)
    covers = NumberField(
        label="Covers, as printed",
        required=False,
        least=Decimal("0.01"),
        most=Decimal(2000),
        places=3,
        help_text="To check the size and the count.",
    )
    measured_in = forms.ChoiceField(
        choices=UnitSystem.choices, widget=forms.HiddenInput, required=False
    )
    retired = forms.BooleanField(label="No longer offered", required=False)

    def __init__(
        self,
        data: Data = None,
        files: Files = None,
        *,
        product: Product | None = None,
        **options: Unpack[VersionedOptions],
    ) -> None:
        super().__init__(data, files, **options)
        self.product = product
        weight = self.fields["carton_weight"]
        if isinstance(weight, WeightField):
            weight.system = self.units
            assumed = product.weight if product and product.weight_assumed else "by its core"
            weight.help_text = f"Left empty: {assumed}, common practice."

    @property
    def covers_unit(self) -> str:
        """The unit in which a carton's coverage is typed."""
        return "m2" if self.units == UnitSystem.METRIC else "ft2"

    @property
    def values(self) -> dict[str, object]:
        """The cleaned values by the names of the product's fields, with the rules that follow."""
        data = self.cleaned_data
        values: dict[str, object] = {name: data[name] for name in ("name", "core", "per_carton")}
        values |= {f"{name}_mm": data[name].mm for name in SIZES}
        values |= {"units": self.units, "attached_pad": data["attached_pad"] == "yes"}
        values |= {"covers_ft2": self._printed_ft2(), "typed_sizes": self._typed_sizes()}
        return values | self._weight() | self._rules()

    def clean(self) -> Cleaned:
        """Refuse a plank wider than long, a carton miscounted, and what the steps contradict."""
        data = super().clean() or {}
        length, width = data.get("length"), data.get("width")
        if length and width and width.mm > length.mm:
            limit = size_words(length.mm, self.units)
            fault = f"The plank is wider than long: “{width.text}”"
            self.add_error("width", f"{fault}; accepted: up to {limit}.")
        if self.product:
            self._refuse_steps(self.product, data)
        if length and width and data.get("per_carton") and not self.errors:
            self._refuse_coverage()
        return data

    def _counted_ft2(self) -> Decimal:
        """Return what the planks of a carton cover by their sizes."""
        data = self.cleaned_data
        more = self.product.sizes[1:] if self.product else ()
        return carton_ft2(data["length"].mm, ((data["width"].mm, data["per_carton"]), *more))

    def _printed_ft2(self) -> Decimal | None:
        covers = self.cleaned_data.get("covers")
        if covers is None:
            return None
        times = FT2_PER_M2 if self.units == UnitSystem.METRIC else Decimal(1)
        return Decimal(covers * times).quantize(_PLACES)

    def _refuse_coverage(self) -> None:
        """Refuse a printed coverage that size and count don't make."""
        printed, counted = self._printed_ft2(), self._counted_ft2()
        if not counted:
            self.add_error("per_carton", "The planks cover nothing; accepted: a larger size.")
        elif printed is not None and not covers_as_printed(printed, counted):
            data, unit = self.cleaned_data, "m²" if self.units == UnitSystem.METRIC else "ft²"
            least, most = (self._in_sheet(bound) for bound in coverage_bounds(counted))
            words = f"“{self['covers'].value()}” {unit} is printed, but {data['per_carton']} planks"
            size = f"{self._size('width')} by {self._size('length')}"
            cover = f"{words} of {size} cover {self._in_sheet(counted)} {unit}"
            either = "or another size or count"
            self.add_error("covers", f"{cover}; accepted: from {least} to {most}, {either}.")

    def _in_sheet(self, ft2: Decimal) -> Decimal:
        """Return square feet in the unit of the sheet, to the hundredth."""
        times = FT2_PER_M2 if self.units == UnitSystem.METRIC else Decimal(1)
        return round(ft2 / times, 2)

    def _size(self, name: str) -> str:
        return size_words(self.cleaned_data[name].mm, self.units)

    def _typed_sizes(self) -> dict[str, str]:
        """Return sizes and weight as they were typed, by the names of their fields."""
        data = self.cleaned_data
        typed = {f"{name}_mm": data[name].text for name in SIZES}
        if data["carton_weight"]:
            typed["carton_weight_kg"] = data["carton_weight"].text
        return typed

    def _weight(self) -> dict[str, object]:
        """Return the carton's weight as typed, else what is common for the core and thickness."""
        data = self.cleaned_data
        if data["carton_weight"]:
            return {"carton_weight_kg": data["carton_weight"].kg, "weight_assumed": False}
        common = common_carton_lb(data["core"], data["thickness"].mm, self._counted_ft2())
        return {"carton_weight_kg": kilograms(common), "weight_assumed": True}

    def _starting(self) -> dict[str, object]:
        """Return what stands in a product of this carton until its sheet is read."""
        data = self.cleaned_data
        return starting_rules(
            core=data["core"],
            units=self.units,
            length_mm=data["length"].mm,
            width_mm=self._narrowest_mm(data["width"]),
        )

    def _narrowest_mm(self, width: TypedLength) -> Decimal:
        more = [mm for mm, _ in self.product.sizes[1:]] if self.product else []
        return min([width.mm, *more])

    def _rules(self) -> dict[str, object]:
        """Return the rules of a new product, or those of an old one that go with its carton."""
        product = self.product
        if product is None:
            return self._starting()
        before = starting_rules(
            core=product.core,
            units=product.units,
            length_mm=product.length_mm,
            width_mm=min(mm for mm, _ in product.sizes),
        )
        after = self._starting()
        now = {name: getattr(product, name) for name in after}
        rules = followed_rules(
            now=now, before=before, after=after, is_ours=lambda name: _is_ours(product, name)
        )
        saw = Decimal(str(rules.get("saw_kerf_mm", product.saw_kerf_mm)))
        return rules | ({"rip_kerf_mm": saw} if product.rip_mm < saw else {})

    def _refuse_steps(self, product: Product, data: Cleaned) -> None:
        """Refuse a carton that what is said in the other steps doesn't fit."""
        if data.get("attached_pad") == "yes" and product.separate_pad == Allowed.YES:
            fault = "A pad on the plank, and a separate pad is allowed in step 4"
            self.add_error("attached_pad", f"{fault}; accepted: one of the two.")
        made = sum(product.variants.values())
        if made and data.get("per_carton") and data["per_carton"] != made:
            fault = f"The shades of step 6 make {made} planks, not {data['per_carton']}"
            self.add_error("per_carton", f"{fault}; accepted: {made}, or other shades first.")
        if not all(data.get(name) for name in ("core", "length", "width")) or self.errors:
            return
        length, width = data["length"], data["width"]
        self._refuse_widths(product, length, width)
        if not self.errors:
            self._refuse_rules(product, length, width)

    def _refuse_widths(self, product: Product, length: TypedLength, width: TypedLength) -> None:
        """Refuse a width that step 6 has too, and a length below one of its widths."""
        further = [mm for mm, _ in product.sizes[1:]]
        if width.mm in further:
            message = f"“{width.text}” is a further width in step 6; accepted: each width once."
            self.add_error("width", message)
        if further and length.mm < max(further):
            least = size_words(max(further), self.units)
            fault = f"A plank of step 6 would be wider than long: “{length.text}”"
            self.add_error("length", f"{fault}; accepted: {least} or more.")

    def _refuse_rules(self, product: Product, length: TypedLength, width: TypedLength) -> None:
        """Refuse a board that the rules of step 3 leave no place on."""
        rules: Mapping[str, object] = self._rules()

        def rule_mm(name: str) -> Decimal:
            return Decimal(str(rules.get(name, getattr(product, name))))

        parts = PARTS[StaggerRule(product.stagger)]
        narrowest = self._narrowest_mm(width)
        for field, name, room, typed in (
            ("length", "min_end_mm", length.mm, length),
            ("width", "min_row_mm", narrowest, width),
        ):
            if rule_mm(name) >= room:
                self._refuse_rule(field, name, typed, rule_mm(name), "more than")
        if rule_mm("min_offset_mm") > length.mm / parts:
            least = rule_mm("min_offset_mm") * parts
            self._refuse_rule("length", "min_offset_mm", length, least, "at least")

    def _refuse_rule(
        self, field: str, rule: str, typed: TypedLength, bound_mm: Decimal, word: str
    ) -> None:
        """Refuse a size for a rule of step 3, with the rule's source."""
        source = rule_source(self.product, rule) if self.product else ""
        fault = f"“{typed.text}” leaves no place for a rule of step 3, {RULES[rule].lower()}"
        accepted = f"{word} {size_words(bound_mm, self.units)}"
        self.add_error(field, f"{fault} ({source}); accepted: {accepted}.")


def _is_ours(product: Product, name: str) -> bool:
    """Whether a rule is common practice, so that it may go along with the carton."""
    return name not in RULES or is_practice(product, name)


def carton_initial(product: Product) -> dict[str, object]:
    """Return what the form of a product's carton shows first."""
    initial: dict[str, object] = {
        name: getattr(product, name) for name in ("name", "core", "per_carton")
    }
    initial |= {name: product.shown(f"{name}_mm") for name in SIZES}
    initial["carton_weight"] = "" if product.weight_assumed else product.weight
    initial["attached_pad"] = "yes" if product.attached_pad else "no"
    if product.covers_ft2 is not None:
        metric = product.units == UnitSystem.METRIC
        covers = round(product.covers_ft2 / (FT2_PER_M2 if metric else 1), 3)
        initial["covers"] = f"{covers.normalize():f}"
    return initial | {"measured_in": product.units, "retired": product.retired_at is not None}


def sheet_units(data: Mapping[str, object] | None, otherwise: str) -> str:
    """Return the unit system that was chosen in a sent form, else ``otherwise``."""
    chosen = str((data or {}).get("measured_in", ""))
    return chosen if chosen in UnitSystem.values else otherwise


def carton_units(data: Mapping[str, object] | None, otherwise: str) -> str:
    """Return the units of a maker's sheet: those in which both length and width were typed."""
    named = {unit_named(str((data or {}).get(name, ""))) for name in ("length", "width")}
    systems = {
        None if unit is None else UnitSystem.IMPERIAL if unit in IMPERIAL else UnitSystem.METRIC
        for unit in named
    }
    only = systems.pop() if len(systems) == 1 else None
    return only or sheet_units(data, otherwise)
