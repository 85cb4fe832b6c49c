"""The steps of a product after its carton: what the maker's sheet says, and where it says it."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import ClassVar, Unpack

from django import forms
from django.forms.boundfield import BoundField

from jobs.domain.floors.kerfs import common_rip_kerf_mm, common_saw_kerf_mm
from jobs.domain.floors.rule_sources import OTHER, RULE_CHOICES, RULES, STEP_CHOICES
from jobs.domain.lengths import size_words
from jobs.domain.products.steps import BY_CODE
from jobs.forms.base import (
    Cleaned,
    Data,
    Files,
    LengthField,
    NumberField,
    VersionedForm,
    VersionedOptions,
    WholeField,
)
from jobs.forms.products.fields import choices_of, reading_field, rule_field
from jobs.models import Allowed, LaidOver, LockType, Product, StaggerRule, Tapping
from jobs.readers.floors.rules import PARTS

KERFS = ("saw_kerf", "rip_kerf")


class StepForm(VersionedForm):
    """A step of a product: its rules, and once for all of them where they come from."""

    step: ClassVar[str]
    plain: ClassVar[tuple[str, ...]] = ()
    lengths: ClassVar[tuple[str, ...]] = ()

    def __init__(
        self,
        data: Data = None,
        files: Files = None,
        *,
        product: Product,
        **options: Unpack[VersionedOptions],
    ) -> None:
        first: VersionedOptions = {
            "initial": self._first(product),
            "units": product.units,
            "version": product.version,
        }
        super().__init__(data, files, **(first | options))
        self.product = product
        if not self.rules:
            return
        self.fields["comes_from"] = forms.ChoiceField(
            label="Comes from",
            choices=STEP_CHOICES,
            required=False,
            help_text=f"All of this step. The whole product: {product.rules_source}.",
        )
        self.fields["page"] = forms.CharField(
            label="Page of the sheet", required=False, max_length=20
        )
        for rule in self.rules:
            source = forms.ChoiceField(label=RULES[rule], choices=RULE_CHOICES, required=False)
            self.fields[f"from_{rule}"] = source
        self.fields["other_standard"] = forms.CharField(
            label="The other standard",
            required=False,
            max_length=120,
            help_text="Its name and year, where a rule comes from one that the lists don't name.",
        )

    @property
    def rules(self) -> tuple[str, ...]:
        """The rules of this step, by the names of the product's fields."""
        return BY_CODE[self.step].rules

    @property
    def answers(self) -> list[BoundField]:
        """The fields of the step itself."""
        return [self[name] for name in (*self.lengths, *self.plain)]

    @property
    def single_sources(self) -> list[BoundField]:
        """The fields of rules that come from elsewhere than the step."""
        return [self[f"from_{rule}"] for rule in self.rules]

    @property
    def any_single(self) -> bool:
        """Whether a rule names a source of its own or a list of them was refused."""
        return any(field.value() or field.errors for field in self.single_sources)

    def _first(self, product: Product) -> dict[str, object]:
        """Return what the form shows first."""
        initial: dict[str, object] = {name: getattr(product, name) for name in self.plain}
        initial |= {name: getattr(product, f"{name}_mm") for name in self.lengths}
        step = product.step_sources.get(self.step, {})
        initial |= {"comes_from": step.get("from", ""), "page": step.get("page", "")}
        initial |= {f"from_{rule}": product.rule_sources.get(rule, "") for rule in self.rules}
        return initial | {"other_standard": product.rule_sources.get(OTHER, "")}

    @property
    def values(self) -> dict[str, object]:
        """The cleaned values under the names of the product's fields."""
        data = self.cleaned_data
        values: dict[str, object] = {name: data[name] for name in self.plain}
        values |= {f"{n}_mm": data[n].mm if data[n] else None for n in self.lengths}
        return values | (self._sources() if self.rules else {})

    def _sources(self) -> dict[str, object]:
        """Return where the rules come from, those of the other steps as they were."""
        data, product = self.cleaned_data, self.product
        of_rules = {k: v for k, v in product.rule_sources.items() if k not in self.rules}
        of_rules |= {rule: source for rule in self.rules if (source := data[f"from_{rule}"])}
        of_rules.pop(OTHER, None)
        if data["other_standard"]:
            of_rules[OTHER] = data["other_standard"]
        said = {"from": data["comes_from"], "page": data["page"]}
        of_steps = {k: v for k, v in product.step_sources.items() if k != self.step}
        if any(said.values()):
            of_steps[self.step] = {name: word for name, word in said.items() if word}
        return {"rule_sources": of_rules, "step_sources": of_steps}

    def clean(self) -> Cleaned:
        """Refuse a rule from a standard that is not named."""
        data = super().clean() or {}
        if not self.rules or data.get("other_standard"):
            return data
        named = [RULES[rule] for rule in self.rules if data.get(f"from_{rule}") == OTHER]
        named += [BY_CODE[self.step].title] if data.get("comes_from") == OTHER else []
        if named:
            fault = f"{named[0]} comes from another standard, which is not named"
            self.add_error("other_standard", f"{fault}; accepted: its name and year.")
        return data


class JoiningForm(StepForm):
    """How planks join, and from which side and end rows are laid."""

    step = "joining"
    plain = ("lock", "tilt_deg", "tapping", "both_ways", "tongue", "first_end")

    lock = forms.ChoiceField(label="Lock", choices=LockType.choices)
    tilt_deg = NumberField(
        label="Tilt angle, degrees", required=False, least=Decimal(1), most=Decimal(60), places=1
    )
    tapping = forms.ChoiceField(label="Tapping", choices=Tapping.choices, required=False)
    tongue = forms.ChoiceField(
        label="Tongue side",
        choices=choices_of("tongue"),
        help_text="Which long side of a plank that lies in its row carries the tongue.",
    )
    first_end = forms.ChoiceField(
        label="Rows begin at",
        choices=choices_of("first_end"),
        help_text="Seen from the start wall, facing the room.",
    )
    both_ways = forms.BooleanField(
        label="Rows may go both ways from a line",
        required=False,
        help_text="Backward, or with a spline, as the maker allows.",
    )


class LayingForm(StepForm):
    """Gaps, kerfs and the shortest, narrowest and longest that may be laid."""

    step = "laying"
    lengths = ("gap", *KERFS, "min_end", "min_offset", "min_row", "max_run", "max_run_width")
    plain = ("stagger",)

    gap = rule_field("Expansion gap", "Left open at every wall, pipe and post.")
    saw_kerf = rule_field(
        "Saw kerf",
        'Lost to a cut across. Left empty: 0 for a rigid core, scored and snapped; 1/8" or 3 mm '
        "for laminate and wood, sawn.",
        required=False,
    )
    rip_kerf = rule_field(
        "Rip kerf",
        'Lost to a cut along the plank. Left empty: 1/8" or 3 mm, as on a table saw. A rigid core '
        "ripped along a guide loses 0.",
        required=False,
    )
    min_end = rule_field("Minimum end piece", "First and last piece of a row.")
    min_offset = rule_field("Minimum stagger", "End joints of rows that touch.")
    min_row = rule_field("Minimum row width", "The narrowest strip left at a wall.")
    max_run = LengthField(
        label="Longest run without a break",
        required=False,
        least_mm=Decimal(1000),
        help_text="Along the rows, through every doorway that the floor is carried through.",
    )
    max_run_width = LengthField(
        label="Widest floor without a break",
        required=False,
        least_mm=Decimal(1000),
        help_text="Across the rows.",
    )
    stagger = forms.ChoiceField(
        label="Stagger pattern",
        choices=StaggerRule.choices,
        help_text="Free unless the maker asks for a fixed step.",
    )

    def _first(self, product: Product) -> dict[str, object]:
        return super()._first(product) | {"rip_kerf": product.rip_mm}

    @property
    def values(self) -> dict[str, object]:
        """The cleaned values under the names of the product's fields."""
        return super().values | self._kerfs_mm()

    def _kerfs_mm(self) -> dict[str, Decimal]:
        """Return what cuts take: as typed, what was left empty as is common for the core."""
        data = self.cleaned_data
        saw, rip = data["saw_kerf"], data["rip_kerf"]
        saw_mm = saw.mm if saw else common_saw_kerf_mm(self.product.core, self.units)
        rip_mm = rip.mm if rip else common_rip_kerf_mm(saw_mm, self.units)
        return {"saw_kerf_mm": saw_mm, "rip_kerf_mm": rip_mm}

    def clean(self) -> Cleaned:
        """Refuse rules that contradict each other or the plank."""
        data = super().clean()
        self._refuse_thin_rip(data)
        product, parts = self.product, PARTS[StaggerRule(data.get("stagger") or "free")]
        narrowest = min(mm for mm, _ in product.sizes)
        self._keep_below("min_end", product.length_mm, "An end piece this long is the whole plank")
        self._keep_below("min_row", narrowest, "A row this wide is the whole plank")
        offset = data.get("min_offset")
        if offset and offset.mm > product.length_mm / parts:
            most = size_words(product.length_mm / parts, self.units)
            fault = f"“{offset.text}” leaves no place for the joints of this plank"
            self.add_error("min_offset", f"{fault}; accepted: up to {most}.")
        return data

    def _keep_below(self, name: str, bound_mm: Decimal, fault: str) -> None:
        """Refuse a length that is not below a size of the plank."""
        value = self.cleaned_data.get(name)
        if value and value.mm >= bound_mm:
            limit = size_words(bound_mm, self.units)
            self.add_error(name, f"{fault}: “{value.text}”; accepted: less than {limit}.")

    def _refuse_thin_rip(self, data: Cleaned) -> None:
        """Refuse a rip that takes less than a cut across."""
        if "saw_kerf" not in data or not data.get("rip_kerf"):
            return
        kerfs, typed = self._kerfs_mm(), data["rip_kerf"]
        if kerfs["rip_kerf_mm"] < kerfs["saw_kerf_mm"]:
            least = size_words(kerfs["saw_kerf_mm"], self.units)
            fault = f"“{typed.text}” is less than a cut across takes"
            self.add_error("rip_kerf", f"{fault}; accepted: {least} or more.")


class GroundForm(StepForm):
    """What a product may lie on and in."""

    step = "place"
    plain = ("laid_over", "wettest", "heated_floor", "separate_pad", "flatness")

    laid_over = forms.MultipleChoiceField(
        label="What it may be laid over",
        choices=LaidOver.choices,
        widget=forms.CheckboxSelectMultiple,
        required=False,
        help_text="None marked: the sheet doesn't say.",
    )
    wettest = forms.ChoiceField(
        label="Wettest room it may lie in", choices=choices_of("wettest"), required=False
    )
    heated_floor = forms.ChoiceField(
        label="Over a heated floor", choices=Allowed.choices, required=False
    )
    separate_pad = forms.ChoiceField(
        label="A separate pad under it", choices=Allowed.choices, required=False
    )
    flatness = forms.CharField(
        label="Subfloor flat to, in the maker's words",
        required=False,
        max_length=80,
        help_text="3/16 in under a 10 ft straightedge, say. The crew checks by it.",
    )

    def clean(self) -> Cleaned:
        """Refuse pads said twice over."""
        data = super().clean()
        if self.product.attached_pad and data.get("separate_pad") == Allowed.YES:
            fault = "Allowed, under a plank with its pad attached"
            self.add_error("separate_pad", f"{fault}; accepted: not allowed, or not said.")
        return data


class RestForm(StepForm):
    """How dry it must be below, and how long the cartons lie in the room first."""

    step = "rest"
    plain = ("most_rh_pct", "most_mver", "most_wood_mc_pct", "acclimate_hours", "moisture_limit")

    most_rh_pct = reading_field(
        "Relative humidity in the slab, at most", "Percent, by probes in the slab.", 100
    )
    most_mver = reading_field(
        "Moisture emission of the slab, at most", "Pounds per 1000 ft² in 24 h.", 50
    )
    most_wood_mc_pct = reading_field(
        "Moisture content of a wood subfloor, at most", "Percent, by meter.", 40
    )
    acclimate_hours = WholeField(
        label="Acclimation, hours",
        least=0,
        most=336,
        help_text="Laminate commonly 48; rigid cores often none; wood until its moisture reads in "
        "range.",
    )
    moisture_limit = forms.CharField(
        label="Moisture, in the maker's words", required=False, max_length=80
    )


RULE_FORMS: Mapping[str, type[StepForm]] = {
    form.step: form for form in (JoiningForm, LayingForm, GroundForm, RestForm)
}
