"""Forms of supplied material: whose each thing is, and what came of one."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal
from typing import NamedTuple

from django import forms
from django.forms import BoundField
from django.utils.html import format_html
from django.utils.safestring import SafeString

from jobs.domain.documents import digest
from jobs.domain.payers.supplied import MaterialNeed
from jobs.forms.base import Data, NumberField, OnceForm, VersionedForm, text_field
from jobs.models import SuppliedBy, SuppliedMaterial
from jobs.models.base import Values
from jobs.services.payers.supplied import RECEIPT_FIELDS, Whose, version_of

MOST_COUNTED = Decimal(99_999)
AS_BELOW = ""


class SuppliedLine(NamedTuple):
    """A material in the table: what is needed, and the fields that say whose it is."""

    need: MaterialNeed
    whose: BoundField
    lot: BoundField


class WhoseForm(VersionedForm):
    """Whose each material of a job is, and which lot was ordered."""

    everything = forms.ChoiceField(
        label="All of it",
        choices=[(AS_BELOW, "As below"), *SuppliedBy.choices],
        required=False,
    )

    def __init__(
        self,
        data: Data = None,
        *,
        needs: Iterable[MaterialNeed],
        rows: Sequence[SuppliedMaterial],
    ) -> None:
        super().__init__(data, version=version_of(list(rows)))
        self.needs = {_name(need.code, need.item): need for need in needs}
        stand = {_name(row.code, row.item): row for row in rows}
        for name, need in self.needs.items():
            row = stand.get(name) or SuppliedMaterial()
            self.fields[f"whose-{name}"] = forms.ChoiceField(
                label=_of("Whose", need), choices=SuppliedBy.choices, initial=row.whose
            )
            lot = text_field(_of("Lot ordered", need), 60)
            lot.initial = row.lot_ordered
            self.fields[f"lot-{name}"] = lot

    @property
    def table(self) -> list[SuppliedLine]:
        """A row for each material."""
        return [
            SuppliedLine(need, self[f"whose-{name}"], self[f"lot-{name}"])
            for name, need in self.needs.items()
        ]

    @property
    def chosen(self) -> dict[tuple[str, str], Whose]:
        """What was said of each material, by code and item."""
        data, every = self.cleaned_data, self.cleaned_data["everything"]
        return {
            (need.code, need.item): Whose(every or data[f"whose-{name}"], data[f"lot-{name}"])
            for name, need in self.needs.items()
        }


def _of(label: str, need: MaterialNeed) -> SafeString:
    """Return a label as the eye reads it, with its material for who only hears it."""
    return format_html('{}<span class="hidden-text">: {}</span>', label, need.label)


def _name(code: str, item: str) -> str:
    """Return a name for the fields of a material, whatever its product is called."""
    return f"{code}-{digest(item)[:8]}" if item else code


class ReceiptForm(OnceForm):
    """What came of a material at once."""

    counted = NumberField(label="Counted", least=Decimal(0), most=MOST_COUNTED)
    faulty = NumberField(
        label="Faulty of these", least=Decimal(0), most=MOST_COUNTED, required=False
    )
    lot = text_field("Lot", 60)
    faults = text_field("Faults seen", 300)
    day = forms.DateField(label="Came on", widget=forms.DateInput(attrs={"type": "date"}))

    def __init__(self, data: Data = None, *, today: date) -> None:
        super().__init__(data, initial={"day": today.isoformat()})
        for name in ("counted", "faulty"):
            self.fields[name].widget.attrs |= {"inputmode": "decimal", "autocomplete": "off"}

    def clean_faulty(self) -> Decimal:
        """Return how many are faulty; none where nothing was typed."""
        return self.cleaned_data["faulty"] or Decimal(0)

    @property
    def values(self) -> Values:
        """The cleaned values under the names of a receipt's fields."""
        return {name: self.cleaned_data[name] for name in RECEIPT_FIELDS}
