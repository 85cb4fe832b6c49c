"""The board and the carton of a product: sizes, further widths, prints, pad."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Unpack

from django import forms
from django.forms.boundfield import BoundField

from jobs.domain.lengths import length_words
from jobs.forms.base import (
    Cleaned,
    Data,
    Files,
    LengthField,
    NameField,
    NumberField,
    VersionedForm,
    VersionedOptions,
    WholeField,
)
from jobs.models import Allowed, Core, UnitSystem
from layout.values.material import MOST_SHADES

KG_PER_LB = Decimal("0.45359237")  # exact, NIST SP 811 (2008), appendix B.8
FURTHER = (2, 3, 4)
"""The numbers of the further widths that a mixed carton may hold."""
_VARIANT = re.compile(r"(?P<name>.*?\S)\s*[:=]?\s+(?P<count>\d{1,4})")
_LEAST_WIDTH_MM = Decimal("12.7")
_MOST_WIDTH_MM = Decimal(1524)
_HOW = "A name and a number each, such as A 4, B 3, C 3."


class VariantsField(forms.CharField):
    """Prints or shades and how many boards of each a carton holds; cleans to a mapping."""

    def prepare_value(self, value: object) -> object:
        """Return what could have been typed."""
        if isinstance(value, dict):
            return ", ".join(f"{name} {count}" for name, count in value.items())
        return value

    def clean(self, value: object) -> dict[str, int]:
        """Return counts by name. Raises ValidationError naming what can't be read."""
        counts: dict[str, int] = {}
        for part in filter(str.strip, re.split(r"[,;\n]", super().clean(value))):
            match = _VARIANT.fullmatch(part.strip())
            name = match["name"].rstrip(":= ") if match else ""
            if match is None or not name or not int(match["count"]):
                message = f"“{part.strip()}” can't be used; accepted: a name and a number, such as"
                raise forms.ValidationError(f"{message} A 4, B 3, C 3.")
            if name in counts:
                raise forms.ValidationError(f"“{name}” stands twice; accepted: each name once.")
            counts[name] = int(match["count"])
        return counts


class BoardForm(VersionedForm):
    """What a carton holds. Bare numbers are in the units of the maker's own sheet."""

    name = NameField(label="Name", max_length=120)
    measured_in = forms.ChoiceField(label="Units of its sheet", choices=UnitSystem.choices)
    core = forms.ChoiceField(label="Core", choices=Core.choices)
    length = LengthField(
        label="Board length, laid",
        help_text="Laid cover: join ten boards end to end, measure face to face over all ten, "
        "divide by ten.",
        least_mm=Decimal("101.6"),
        most_mm=Decimal(7620),
    )
    width = LengthField(
        label="Board width, laid",
        help_text="Join ten side by side, measure over all ten, divide by ten: never the tongue.",
        least_mm=_LEAST_WIDTH_MM,
        most_mm=_MOST_WIDTH_MM,
    )
    thickness = LengthField(
        label="Thickness",
        help_text="With the pad, where one is attached.",
        least_mm=Decimal(1),
        most_mm=Decimal(60),
    )
    per_carton = WholeField(
        label="Boards in a carton",
        least=1,
        most=1000,
        help_text="Of this width, where a carton is mixed.",
    )
    carton_weight = NumberField(
        label="Carton weight",
        required=False,
        least=Decimal("0.1"),
        most=Decimal(500),
        help_text="In pounds, or in kilograms for a metric sheet.",
    )
    variants = VariantsField(
        label="Prints or shades in a carton",
        required=False,
        max_length=400,
        help_text=f"{_HOW} Of this width, where a carton is mixed.",
    )
    shades = WholeField(
        label="Shades, where no carton says how many of each",
        required=False,
        least=2,
        most=MOST_SHADES,
        help_text="How many shades there are. Sorted once cartons are open, they are A, B, C.",
    )
    attached_pad = forms.BooleanField(label="Pad attached to the board", required=False)
    separate_pad = forms.ChoiceField(
        label="A separate pad under it", choices=Allowed.choices, required=False
    )

    def __init__(
        self, data: Data = None, files: Files = None, **options: Unpack[VersionedOptions]
    ) -> None:
        super().__init__(data, files, **options)
        for number in FURTHER:
            width = LengthField(
                label=f"Width {number}",
                required=False,
                system=self.units,
                least_mm=_LEAST_WIDTH_MM,
                most_mm=_MOST_WIDTH_MM,
            )
            count = WholeField(label="Boards of it", least=1, most=1000, required=False)
            mix = VariantsField(
                label="Prints or shades of it", required=False, max_length=400, help_text=_HOW
            )
            self.fields |= {f"width_{number}": width, f"count_{number}": count}
            self.fields[f"variants_{number}"] = mix

    @property
    def further(self) -> list[tuple[BoundField, ...]]:
        """The fields of every further width: the width, its boards in a carton, their shades."""
        names = ("width", "count", "variants")
        return [tuple(self[f"{name}_{number}"] for name in names) for number in FURTHER]

    @property
    def board_values(self) -> dict[str, object]:
        """The cleaned values under the names of the product's fields."""
        data = self.cleaned_data
        names = ("name", "core", "per_carton", "attached_pad", "separate_pad", "variants", "shades")
        weight = data["carton_weight"]
        if weight is not None and self.units == UnitSystem.IMPERIAL:
            weight = round(weight * KG_PER_LB, 2)
        values = {name: data[name] for name in names}
        values |= {f"{name}_mm": data[name].mm for name in ("length", "width", "thickness")}
        values |= {"units": data["measured_in"], "carton_weight_kg": weight}
        return {**values, "more_boards": self._more_boards()}

    def _more_boards(self) -> list[dict[str, object]]:
        """Return the further widths as a product keeps them."""
        rows: list[dict[str, object]] = []
        for number, mm, count in self._more():
            mix = self.cleaned_data.get(f"variants_{number}")
            row: dict[str, object] = {"width_mm": f"{mm.normalize():f}", "per_carton": count}
            rows.append({**row, "variants": mix} if mix else row)
        return rows

    def clean(self) -> Cleaned:
        """Refuse a board wider than long, a width told by half or twice, a carton miscounted."""
        data = super().clean() or {}
        self.keep_below("width", "length", "The board is wider than long", strict=False)
        for number in FURTHER:
            self._refuse_half(number)
        widths = [(name, mm) for name, mm in self._widths() if mm is not None]
        for place, (name, mm) in enumerate(widths):
            if mm in [other for _, other in widths[:place]]:
                width_words = length_words(mm, self.units)
                self.add_error(name, f"{width_words} stands twice; accepted: each width once.")
        self._refuse_variants(data)
        return data

    def keep_below(self, name: str, bound: str, fault: str, *, strict: bool = True) -> None:
        """Refuse the length ``name`` where it is not below the length ``bound``."""
        value, most = self.cleaned_data.get(name), self.cleaned_data.get(bound)
        if not value or not most:
            return
        if value.mm > most.mm or (strict and value.mm == most.mm):
            limit = length_words(most.mm, self.units)
            word = "less than" if strict else "up to"
            self.add_error(name, f"{fault}: “{value.text}”; accepted: {word} {limit}.")

    def narrowest_mm(self) -> Decimal | None:
        """Return the narrowest width of the carton, None where none can be read."""
        return min((mm for _, mm in self._widths() if mm is not None), default=None)

    def _widths(self) -> list[tuple[str, Decimal | None]]:
        names = ["width", *(f"width_{number}" for number in FURTHER)]
        values = [(name, self.cleaned_data.get(name)) for name in names]
        return [(name, value.mm if value else None) for name, value in values]

    def _more(self) -> list[tuple[int, Decimal, int]]:
        data = self.cleaned_data
        rows = [(n, data.get(f"width_{n}"), data.get(f"count_{n}")) for n in FURTHER]
        return [(n, width.mm, int(count)) for n, width, count in rows if width and count]

    def _refuse_half(self, number: int) -> None:
        """Refuse a further width without its count, and a count without its width."""
        names = (f"width_{number}", f"count_{number}")
        given = [name for name in names if self.cleaned_data.get(name)]
        if len(given) == 1 and not any(name in self.errors for name in names):
            missing = names[1] if given[0] == names[0] else names[0]
            message = "Nothing was typed; accepted: a width and its number of boards together."
            self.add_error(missing, message)
        width, length = self.cleaned_data.get(names[0]), self.cleaned_data.get("length")
        if width and length and width.mm > length.mm:
            self.keep_below(names[0], "length", "The board is wider than long", strict=False)

    def _refuse_variants(self, data: Cleaned) -> None:
        """Refuse prints or shades that don't make up the boards of a carton, or said twice over."""
        counts = {"variants": data.get("per_carton")}
        counts |= {f"variants_{number}": count for number, _, count in self._more()}
        for name in ("variants", *(f"variants_{number}" for number in FURTHER)):
            self._refuse_mix(name, data.get(name), counts.get(name))
        named = any(data.get(name) for name in counts)
        if data.get("shades") and named:
            message = f"{data['shades']} shades beside counts of each; accepted: one of the two."
            self.add_error("shades", message)

    def _refuse_mix(self, name: str, mix: dict[str, int] | None, boards: int | None) -> None:
        """Refuse counts of prints or shades of one width that don't make up its boards."""
        if not mix or boards is None:
            return
        printed = sum(mix.values())
        if printed != boards:
            carton = "one carton" if name == "variants" and not self._more() else "this width"
            message = f"“{self[name].value()}” makes {printed} boards; accepted: counts that"
            self.add_error(name, f"{message} make up {carton}, {boards} boards.")
