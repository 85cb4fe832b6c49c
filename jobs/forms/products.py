"""The form of a plank product: its board, its carton and the rules that come with it."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Unpack

from django import forms
from django.forms.boundfield import BoundField

from jobs.domain.floors.kerfs import common_rip_kerf_mm, common_saw_kerf_mm
from jobs.domain.floors.rule_sources import CHOICES, OTHER, RULES
from jobs.domain.lengths import length_words
from jobs.forms.base import (
    Cleaned,
    Data,
    Files,
    LengthField,
    NameField,
    NumberField,
    VersionedOptions,
    WholeField,
)
from jobs.forms.boards import BoardForm
from jobs.models import Allowed, LaidOver, LockType, Product, StaggerRule, Tapping, UnitSystem
from jobs.services.products.sheets import ACCEPTED, SheetSent

_ZERO = Decimal(0)
_RULE_MM = Decimal(7620)
PARTS = {StaggerRule.FREE: 2, StaggerRule.HALF: 2, StaggerRule.THIRD: 3}

# Common practice, no source: what stands in a new product until the maker's sheet says otherwise.
DEFAULTS: Mapping[str, Mapping[str, str]] = {
    UnitSystem.IMPERIAL: {
        "gap": '1/4"',
        "min_end": '8"',
        "min_offset": '8"',
        "min_row": '2"',
    },
    UnitSystem.METRIC: {
        "gap": "6 mm",
        "min_end": "200 mm",
        "min_offset": "200 mm",
        "min_row": "50 mm",
    },
}
KERFS = ("saw_kerf", "rip_kerf")
RULE_LENGTHS = ("gap", *KERFS, "min_end", "min_offset", "min_row", "max_run", "max_run_width")
LENGTHS = ("length", "width", "thickness", *RULE_LENGTHS)
PLAIN_RULES = (
    *("lock", "tongue", "first_end", "both_ways", "tilt_deg", "tapping", "stagger"),
    *("laid_over", "wettest", "heated_floor", "acclimate_hours", "most_rh_pct", "most_mver"),
    *("most_wood_mc_pct", "moisture_limit", "sheet_edition", "rules_source"),
)


def _choices(name: str) -> Sequence[tuple[str, str]]:
    """Return the choices of a product's field."""
    field = Product._meta.get_field(name)  # noqa: SLF001  public by Django's documentation
    return list(getattr(field, "choices", None) or ())


def _rule(label: str, help_text: str, *, required: bool = True) -> LengthField:
    """Return a field for a rule that may be nought."""
    return LengthField(
        label=label, help_text=help_text, least_mm=_ZERO, most_mm=_RULE_MM, required=required
    )


def _reading(label: str, help_text: str, most: int) -> NumberField:
    """Return a field for a moisture limit that need not be known."""
    return NumberField(
        label=label,
        help_text=help_text,
        required=False,
        least=Decimal("0.1"),
        most=Decimal(most),
        places=1,
    )


class ProductForm(BoardForm):
    """A plank product. Each rule has a field beside it that says where the rule comes from."""

    lock = forms.ChoiceField(label="How boards join", choices=LockType.choices)
    tongue = forms.ChoiceField(
        label="Tongue side",
        choices=_choices("tongue"),
        required=False,
        help_text="Which long side of a board that lies in its row carries the tongue.",
    )
    first_end = forms.ChoiceField(
        label="Rows begin at",
        choices=_choices("first_end"),
        required=False,
        help_text="Seen from the start wall, facing the room.",
    )
    both_ways = forms.BooleanField(
        label="Rows may go both ways from a line",
        required=False,
        help_text="Backward, or with a spline, as the maker allows.",
    )
    tilt_deg = NumberField(
        label="Tilt angle", required=False, least=Decimal(1), most=Decimal(60), places=1
    )
    tapping = forms.ChoiceField(label="Tapping", choices=Tapping.choices, required=False)
    gap = _rule("Gap at walls", "Left open at every wall, pipe and post.")
    saw_kerf = _rule(
        "Saw kerf",
        'Lost to a cut across. Left empty: 0 for a rigid core, scored and snapped; 1/8" or 3 mm '
        "for laminate and wood, sawn.",
        required=False,
    )
    rip_kerf = _rule(
        "Rip kerf",
        'Lost to a cut along the board. Left empty: 1/8" or 3 mm, as on a table saw. A rigid core '
        "ripped along a guide loses 0.",
        required=False,
    )
    min_end = _rule("Shortest end piece", "First and last piece of a row.")
    min_offset = _rule("Least offset of end joints", "Between rows that touch.")
    min_row = _rule("Narrowest row", "The narrowest strip left at a wall.")
    stagger = forms.ChoiceField(
        label="Step of end joints",
        choices=StaggerRule.choices,
        help_text="Free unless the maker asks for a fixed step.",
    )
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
    laid_over = forms.MultipleChoiceField(
        label="What it may be laid over",
        choices=LaidOver.choices,
        widget=forms.CheckboxSelectMultiple,
        required=False,
        help_text="None marked: the sheet doesn't say.",
    )
    wettest = forms.ChoiceField(
        label="Wettest room it may lie in", choices=_choices("wettest"), required=False
    )
    heated_floor = forms.ChoiceField(
        label="Over a heated floor", choices=Allowed.choices, required=False
    )
    acclimate_hours = WholeField(
        label="Hours in the room before laying",
        least=0,
        most=336,
        help_text="Wood cores commonly 24 to 48, rigid cores often none.",
    )
    most_rh_pct = _reading(
        "Relative humidity in the slab, at most", "Percent, by probes in the slab.", 100
    )
    most_mver = _reading(
        "Moisture emission of the slab, at most", "Pounds per 1000 ft² in 24 h.", 50
    )
    most_wood_mc_pct = _reading(
        "Moisture content of a wood subfloor, at most", "Percent, by meter.", 40
    )
    moisture_limit = forms.CharField(
        label="Moisture, in the maker's words", required=False, max_length=80
    )
    sheet = forms.FileField(
        label="The maker's sheet",
        required=False,
        help_text=f"{ACCEPTED[:1].upper()}{ACCEPTED[1:]}.",
        widget=forms.FileInput,
        error_messages={"empty": f"The file is empty; accepted: {ACCEPTED}."},
    )
    sheet_gone = forms.BooleanField(label="Take the sheet away again", required=False)
    sheet_edition = forms.CharField(
        label="Edition of the sheet",
        required=False,
        max_length=80,
        help_text="As printed on it: a number, a month, a year.",
    )
    other_standard = forms.CharField(
        label="The other standard",
        required=False,
        max_length=120,
        help_text="Where a rule above comes from one that its list doesn't name.",
    )
    rules_source = NameField(
        label="Where the rules come from",
        max_length=160,
        help_text="For every rule that names nothing else: the maker's sheet and its edition, a "
        "standard, or our default.",
    )
    retired = forms.BooleanField(label="No longer offered", required=False)

    def __init__(
        self, data: Data = None, files: Files = None, **options: Unpack[VersionedOptions]
    ) -> None:
        super().__init__(data, files, **options)
        for rule in RULES:
            source = forms.ChoiceField(label="Comes from", choices=CHOICES, required=False)
            self.fields[f"from_{rule}"] = source

    def ruled(self, *names: str) -> list[tuple[BoundField, BoundField]]:
        """Return the fields of these rules, each with the field that says where it comes from."""
        fields = {rule: rule.removesuffix("_mm") for rule in RULES}
        return [(self[fields[rule]], self[f"from_{rule}"]) for rule in names]

    @property
    def groups(self) -> dict[str, list[tuple[BoundField, BoundField]]]:
        """The rules by the heading they stand under."""
        gaps = ("gap_mm", "saw_kerf_mm", "rip_kerf_mm", "min_end_mm", "min_offset_mm")
        rows = ("min_row_mm", "stagger", "max_run_mm", "max_run_width_mm")
        limits = ("most_rh_pct", "most_mver", "most_wood_mc_pct", "acclimate_hours")
        return {
            "joining": self.ruled("lock", "tilt_deg", "tapping", "both_ways"),
            "laying": self.ruled(*gaps, *rows),
            "suits": self.ruled("laid_over", "wettest", "heated_floor", "separate_pad"),
            "moisture": self.ruled(*limits),
        }

    @property
    def sheet_sent(self) -> SheetSent | None:
        """The sheet as it was sent, None without one."""
        upload = self.cleaned_data.get("sheet")
        if not upload:
            return None
        return SheetSent(upload=upload, size=upload.size, name=upload.name)

    @property
    def once_key(self) -> str:
        """The key of this very content, the file with it."""
        upload = self.files.get("sheet")
        if not upload:
            return super().once_key
        digest = hashlib.sha256(super().once_key.encode())
        for chunk in upload.chunks():
            digest.update(chunk)
        upload.seek(0)
        return digest.hexdigest()

    @property
    def values(self) -> dict[str, object]:
        """The cleaned values under the names of the product's fields."""
        data = self.cleaned_data
        values = self.board_values | {name: data[name] for name in PLAIN_RULES}
        values |= {f"{name}_mm": data[name].mm if data[name] else None for name in RULE_LENGTHS}
        values |= self._kerfs_mm()
        values["tongue"] = data["tongue"] or "high"
        values["first_end"] = data["first_end"] or "left"
        sources = {rule: source for rule in RULES if (source := data[f"from_{rule}"])}
        if data["other_standard"]:
            sources[OTHER] = data["other_standard"]
        return values | {"rule_sources": sources}

    def _kerfs_mm(self) -> dict[str, Decimal]:
        """Return what cuts take: as typed, what was left empty as is common for the core."""
        data = self.cleaned_data
        saw, rip = data["saw_kerf"], data["rip_kerf"]
        saw_mm = saw.mm if saw else common_saw_kerf_mm(data["core"], self.units)
        rip_mm = rip.mm if rip else common_rip_kerf_mm(saw_mm, self.units)
        return {"saw_kerf_mm": saw_mm, "rip_kerf_mm": rip_mm}

    def clean(self) -> Cleaned:
        """Refuse rules that contradict each other or the board."""
        data = super().clean()
        self._refuse_thin_rip(data)
        self.keep_below("min_end", "length", "An end piece this long is the whole board")
        narrowest, row = self.narrowest_mm(), data.get("min_row")
        if row and narrowest and row.mm >= narrowest:
            limit = length_words(narrowest, self.units)
            fault = f"A row this wide is the whole board: “{row.text}”"
            self.add_error("min_row", f"{fault}; accepted: less than {limit}.")
        length, offset = data.get("length"), data.get("min_offset")
        parts = PARTS.get(StaggerRule(data.get("stagger") or StaggerRule.FREE), 2)
        if length and offset and offset.mm > length.mm / parts:
            most = length_words(length.mm / parts, self.units)
            fault = f"“{offset.text}” leaves no place for the joints of this board"
            self.add_error("min_offset", f"{fault}; accepted: up to {most}.")
        self._refuse_sources(data)
        return data

    def _refuse_thin_rip(self, data: Cleaned) -> None:
        """Refuse a rip that takes less than a cut across."""
        if "core" not in data or "saw_kerf" not in data or not data.get("rip_kerf"):
            return
        kerfs, typed = self._kerfs_mm(), data["rip_kerf"]
        if kerfs["rip_kerf_mm"] < kerfs["saw_kerf_mm"]:
            least = length_words(kerfs["saw_kerf_mm"], self.units)
            fault = f"“{typed.text}” is less than a cut across takes"
            self.add_error("rip_kerf", f"{fault}; accepted: {least} or more.")

    def _refuse_sources(self, data: Cleaned) -> None:
        """Refuse pads said twice over, and a rule from a standard that is not named."""
        if data.get("attached_pad") and data.get("separate_pad") == Allowed.YES:
            fault = "Allowed, under a board with its pad attached"
            self.add_error("separate_pad", f"{fault}; accepted: not allowed, or not said.")
        others = [rule for rule in RULES if data.get(f"from_{rule}") == OTHER]
        if others and not data.get("other_standard"):
            fault = f"{RULES[others[0]]} comes from another standard, which is not named"
            self.add_error("other_standard", f"{fault}; accepted: its name and year.")


def sheet_units(data: Mapping[str, object] | None, otherwise: str) -> str:
    """Return the unit system that was chosen in a sent form, else ``otherwise``."""
    chosen = str((data or {}).get("measured_in", ""))
    return chosen if chosen in UnitSystem.values else otherwise
