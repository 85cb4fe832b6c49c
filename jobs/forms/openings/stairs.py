"""The form of a flight of stairs: what is covered, the risers as measured, what comes up."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Unpack

from django import forms
from django.core.exceptions import ValidationError

from jobs.forms.base import (
    Data,
    LengthField,
    NameField,
    VersionedForm,
    VersionedOptions,
    WholeField,
)
from jobs.models import Job, Product, StairFlight

_ZERO = Decimal(0)
_RAISED_MM = Decimal(150)
_HIGHEST_MM = Decimal(600)
_MOST = 60
_COUNTS = ("treads", "riser_boards", "nosings")
_RAISED = ("treads_raised", "below_raised", "above_raised")


class StairForm(VersionedForm):
    """A flight of ``job``."""

    name = NameField(label="Name")
    product = forms.ModelChoiceField(
        label="Covered with",
        queryset=Product.objects.none(),
        required=False,
        empty_label="The plank of the first floor",
    )
    treads = WholeField(label="Treads to cover", least=1, most=_MOST)
    riser_boards = WholeField(label="Risers to cover", least=0, most=_MOST)
    nosings = WholeField(label="Nosings", least=0, most=_MOST)
    width = LengthField(label="Width of the stair")
    tread = LengthField(
        label="Depth of a tread", required=False, help_text="From nosing to nosing."
    )
    risers = forms.CharField(
        label="Risers as they are now",
        required=False,
        max_length=1200,
        widget=forms.Textarea(attrs={"rows": 6}),
        help_text="From the bottom, one a line or between commas. Measure every one.",
    )
    treads_raised = LengthField(label="Treads come up by", required=False, least_mm=_ZERO)
    below_raised = LengthField(label="Floor below comes up by", required=False, least_mm=_ZERO)
    above_raised = LengthField(label="Floor above comes up by", required=False, least_mm=_ZERO)

    def __init__(self, data: Data = None, *, job: Job, **options: Unpack[VersionedOptions]) -> None:
        super().__init__(data, **options)
        product = self.fields["product"]
        if isinstance(product, forms.ModelChoiceField):
            product.queryset = job.company.products.filter(retired_at=None)
        for name in _RAISED:
            raised = self.fields[name]
            if isinstance(raised, LengthField):
                raised.most_mm = _RAISED_MM

    def clean_risers(self) -> list[str]:
        """Return the risers as typed. Raises ValidationError naming the one that is none."""
        texts = re.split(r"[,\n;]", str(self.cleaned_data["risers"]))
        typed = [text.strip() for text in texts if text.strip()]
        if len(typed) > _MOST:
            raise ValidationError(f"{len(typed)} risers were typed; accepted: up to {_MOST}.")
        field = LengthField(system=self.units, most_mm=_HIGHEST_MM)
        for number, text in enumerate(typed, start=1):
            try:
                field.clean(text)
            except ValidationError as bad:
                raise ValidationError(f"Riser {number}: {' '.join(bad.messages)}") from None
        return typed

    @property
    def values(self) -> dict[str, object]:
        """The cleaned values under the names of the row's fields; refused ones are left out."""
        data = self.cleaned_data
        values = {
            name: data[name] for name in ("name", "product", "risers", *_COUNTS) if name in data
        }
        for name in ("width", "tread"):
            if name in data:
                values[f"{name}_mm"] = data[name].mm if data[name] else None
        for name in _RAISED:
            if name in data:
                values[f"{name}_mm"] = data[name].mm if data[name] else _ZERO
        return values


def initial_of_stair(row: StairFlight) -> dict[str, object]:
    """Return what the form of a stored flight shows first."""
    initial: dict[str, object] = {
        name: getattr(row, name) for name in ("name", "product", *_COUNTS)
    }
    initial["risers"] = "\n".join(row.risers)
    for name in ("width", "tread", *_RAISED):
        value = getattr(row, f"{name}_mm")
        initial[name] = None if value is None else Decimal(value)
    return initial
