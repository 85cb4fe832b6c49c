"""The form of the rules that are set for one floor only."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from django import forms

from jobs.domain.floors.rule_sources import RULES, is_practice, rule_source
from jobs.domain.lengths import length_words
from jobs.forms.base import Cleaned, Data, LengthField, TypedLength, VersionedForm
from jobs.models import FloorZone, StaggerRule
from jobs.readers.floors.rules import FLOOR_LENGTHS, bounds_mm

_CHOICES = (("", "As the product"), *StaggerRule.choices)


class ZoneRulesForm(VersionedForm):
    """Rules of a floor of its own; a field left empty stays as the product has it.

    What the maker or a standard asks for may be made stricter, never laxer. ``tried`` are limits
    to begin with, as typed.
    """

    stagger = forms.ChoiceField(label=RULES["stagger"], choices=_CHOICES, required=False)

    def __init__(
        self,
        data: Data = None,
        *,
        zone: FloorZone,
        units: str,
        version: int,
        tried: Mapping[str, str] | None = None,
    ) -> None:
        stored = zone.own_rules
        initial = {name: Decimal(stored[name]) for name in FLOOR_LENGTHS if name in stored}
        initial_step = {"stagger": stored.get("stagger", "")}
        initial_step |= tried or {}
        super().__init__(data, initial=initial | initial_step, units=units, version=version)
        self.zone = zone
        for name in FLOOR_LENGTHS:
            self.fields[name] = LengthField(
                label=RULES[name],
                required=False,
                system=self.units,
                least_mm=Decimal(0),
                help_text=self._as_product(name),
            )
        self.fields["stagger"].help_text = (
            f"The product: {zone.product.get_stagger_display()} "
            f"({rule_source(zone.product, 'stagger')})."
        )
        self.order_fields(["key", "version", *FLOOR_LENGTHS, "stagger"])

    def _as_product(self, name: str) -> str:
        product = self.zone.product
        value = length_words(getattr(product, name), self.units)
        return f"The product: {value} ({rule_source(product, name)})."

    def clean_stagger(self) -> str:
        """Refuse another step than the maker asks for."""
        step: str = self.cleaned_data["stagger"]
        product = self.zone.product
        of_product = product.stagger
        if step and step != of_product != StaggerRule.FREE and not is_practice(product, "stagger"):
            accepted, source = product.get_stagger_display(), rule_source(product, "stagger")
            message = (
                f"{StaggerRule(step).label} is not the step of {product}; accepted: {accepted}"
            )
            raise forms.ValidationError(f"{message} ({source}).")
        return step

    def clean(self) -> Cleaned:
        """Refuse lengths outside what product and boards allow."""
        data = super().clean() or {}
        step = str(data.get("stagger") or self.zone.product.stagger)
        for name in FLOOR_LENGTHS:
            value: TypedLength | None = data.get(name)
            if value is not None:
                self._refuse_outside(name, value, step)
        return data

    def _refuse_outside(self, name: str, value: TypedLength, step: str) -> None:
        """Refuse a length below the product's or above what its boards allow."""
        product = self.zone.product
        least, most = bounds_mm(product, name, step)
        up_to = length_words(most, self.units)
        whole = name in ("min_end_mm", "min_row_mm")
        if value.mm < least:
            source = rule_source(product, name)
            bound = f"{length_words(least, self.units)} or more ({source})"
            self.add_error(name, f"“{value.text}” is less than {product} asks; accepted: {bound}.")
        elif value.mm > most or (whole and value.mm == most):
            word = "less than" if whole else "up to"
            fault = f"“{value.text}” is more than its boards allow"
            self.add_error(name, f"{fault}; accepted: {word} {up_to}.")

    @property
    def lengths(self) -> dict[str, Decimal | None]:
        """The cleaned lengths in mm under the names of the product's fields."""
        data = self.cleaned_data
        return {name: data[name].mm if data[name] else None for name in FLOOR_LENGTHS}
