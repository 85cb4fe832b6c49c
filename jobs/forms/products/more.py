"""The last steps of a product: widths and shades that a carton mixes, and the sheet itself."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from decimal import Decimal
from typing import Unpack

from django import forms
from django.forms.boundfield import BoundField

from jobs.domain.lengths import size_words
from jobs.forms.base import Cleaned, Data, Files, NameField, VersionedOptions, WholeField
from jobs.forms.products.fields import LEAST_WIDTH_MM, WIDEST_MM, SizeField, VariantsField
from jobs.forms.products.steps import RULE_FORMS, StepForm
from jobs.models import Product
from jobs.services.products.sheets import ACCEPTED, SheetSent
from layout.values.material import MOST_SHADES

FURTHER = (2, 3, 4)
"""The numbers of the further widths that a mixed carton may hold."""
_HOW = "A name and a number each, such as A 4, B 3, C 3."


class MixForm(StepForm):
    """Shades of a carton, and its further widths with theirs."""

    step = "mix"
    plain = ("variants", "shades")

    variants = VariantsField(
        label="Prints or shades in a carton", required=False, max_length=400, help_text=_HOW
    )
    shades = WholeField(
        label="Shades, where no carton says how many of each",
        required=False,
        least=2,
        most=MOST_SHADES,
        help_text="How many shades there are. Sorted once cartons are open, they are A, B, C.",
    )

    def __init__(
        self,
        data: Data = None,
        files: Files = None,
        *,
        product: Product,
        **options: Unpack[VersionedOptions],
    ) -> None:
        super().__init__(data, files, product=product, **options)
        self.fields[
            "variants"
        ].help_text = f"{_HOW} Of the {product.per_carton} planks {product.sized('width_mm')} wide."
        for number in FURTHER:
            width = SizeField(
                label=f"Width {number}",
                required=False,
                system=self.units,
                least_mm=LEAST_WIDTH_MM,
                most_mm=WIDEST_MM,
            )
            count = WholeField(label="Planks of it", least=1, most=1000, required=False)
            mix = VariantsField(
                label="Prints or shades of it", required=False, max_length=400, help_text=_HOW
            )
            self.fields |= {f"width_{number}": width, f"count_{number}": count}
            self.fields[f"variants_{number}"] = mix

    @property
    def further(self) -> list[tuple[BoundField, ...]]:
        """The fields of every further width: the width, its planks in a carton, their shades."""
        names = ("width", "count", "variants")
        return [tuple(self[f"{name}_{number}"] for name in names) for number in FURTHER]

    def _first(self, product: Product) -> dict[str, object]:
        initial = super()._first(product)
        for number, more in zip(FURTHER, product.more_boards, strict=False):
            mm = Decimal(more["width_mm"])
            initial |= {f"width_{number}": more.get("typed") or mm}
            initial |= {f"count_{number}": more["per_carton"]}
            initial |= {f"variants_{number}": more.get("variants")}
        return initial

    @property
    def values(self) -> dict[str, object]:
        """The cleaned values under the names of the product's fields."""
        return super().values | {"more_boards": self._more_boards()}

    def _more_boards(self) -> list[dict[str, object]]:
        """Return the further widths as a product keeps them."""
        rows: list[dict[str, object]] = []
        for number, mm, count in self._more():
            mix = self.cleaned_data.get(f"variants_{number}")
            row: dict[str, object] = {"width_mm": f"{mm.normalize():f}", "per_carton": count}
            row["typed"] = self.cleaned_data[f"width_{number}"].text
            rows.append({**row, "variants": mix} if mix else row)
        return rows

    def _more(self) -> list[tuple[int, Decimal, int]]:
        data = self.cleaned_data
        rows = [(n, data.get(f"width_{n}"), data.get(f"count_{n}")) for n in FURTHER]
        return [(n, width.mm, int(count)) for n, width, count in rows if width and count]

    def clean(self) -> Cleaned:
        """Refuse a width told by half or twice, and shades that don't make up their planks."""
        data = super().clean()
        seen = {self.product.width_mm}
        for number in FURTHER:
            self._refuse_half(number)
            self._refuse_width(number, seen)
        self._refuse_variants(data)
        return data

    def _refuse_half(self, number: int) -> None:
        """Refuse a further width without its count, and a count without its width."""
        names = (f"width_{number}", f"count_{number}")
        given = [name for name in names if self.cleaned_data.get(name)]
        if len(given) == 1 and not any(name in self.errors for name in names):
            missing = names[1] if given[0] == names[0] else names[0]
            message = "Nothing was typed; accepted: a width and its number of planks together."
            self.add_error(missing, message)

    def _refuse_width(self, number: int, seen: set[Decimal]) -> None:
        """Refuse a width that stands twice, is wider than long or no wider than its least row."""
        name, product = f"width_{number}", self.product
        width = self.cleaned_data.get(name)
        if not width:
            return
        if width.mm in seen:
            message = f"“{width.text}” stands twice; accepted: each width once."
            self.add_error(name, message)
        elif width.mm > product.length_mm:
            most = product.sized("length_mm")
            fault = f"The plank is wider than long: “{width.text}”"
            self.add_error(name, f"{fault}; accepted: up to {most}.")
        elif width.mm <= product.min_row_mm:
            least = size_words(product.min_row_mm, self.units)
            fault = f"“{width.text}” is no wider than the minimum row width of step 3"
            self.add_error(name, f"{fault}; accepted: more than {least}.")
        seen.add(width.mm)

    def _refuse_variants(self, data: Cleaned) -> None:
        """Refuse prints or shades that don't make up the planks of a width, or said twice over."""
        counts = {"variants": self.product.per_carton}
        counts |= {f"variants_{number}": count for number, _, count in self._more()}
        for name, planks in counts.items():
            self._refuse_mix(name, data.get(name), planks)
        if data.get("shades") and any(data.get(name) for name in counts):
            message = f"{data['shades']} shades beside counts of each; accepted: one of the two."
            self.add_error("shades", message)

    def _refuse_mix(self, name: str, mix: dict[str, int] | None, planks: int) -> None:
        """Refuse counts of prints or shades of one width that don't make up its planks."""
        made = sum((mix or {}).values())
        if made and made != planks:
            carton = "one carton" if name == "variants" and not self._more() else "this width"
            message = f"“{self[name].value()}” makes {made} planks; accepted: counts that"
            self.add_error(name, f"{message} make up {carton}, {planks} planks.")


class SheetForm(StepForm):
    """The maker's sheet as a file, its edition, and what no step names a source for."""

    step = "sheet"
    plain = ("sheet_edition", "rules_source")

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
    rules_source = NameField(
        label="Where the whole product comes from",
        max_length=160,
        help_text="For every rule whose step names nothing else: the maker's sheet and its "
        "edition, a standard, or our default.",
    )

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


STEP_FORMS: Mapping[str, type[StepForm]] = {
    **RULE_FORMS,
    MixForm.step: MixForm,
    SheetForm.step: SheetForm,
}
