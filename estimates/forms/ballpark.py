"""What a caller says, in one form; and who the job is for that a ballpark becomes."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Unpack

from django import forms
from django.core.exceptions import ValidationError

from estimates.domain.ballpark.area import RoughSize, size_said
from estimates.domain.ballpark.counts import MOST_COUNTED, RoughFloor
from estimates.forms.fields import LARGEST_AMOUNT
from estimates.forms.prices import FigureField, LineField
from jobs.domain.checks import BadValueError
from jobs.domain.figures import money
from jobs.forms.base import Cleaned, Data, FormOptions, OnceForm, WholeField, text_field
from jobs.models.base import Values

LONGEST_SIZE = 80
OLD_FLOORS = (
    ("unknown", "Not known yet"),
    ("none", "Nothing comes out"),
    ("carpet", "Carpet"),
    ("resilient", "Sheet or tile, resilient"),
    ("laminate", "Floating plank"),
    ("wood", "Wood"),
    ("tile", "Ceramic or stone tile"),
)
BASES = (
    ("unknown", "Not known yet"),
    ("keep", "Stays on the wall"),
    ("reinstall", "Off, and the old one back on"),
    ("replace", "Off, and new base on"),
)
COUNTS = ("doors", "strips", "steps", "furniture", "toilets", "appliances")
FLOOR_FIELDS = ("old_floor", "base", "flooring", "flooring_ft2", "pad", *COUNTS)
PRICE_PLACES = 4


def _count(label: str, help_text: str = "") -> WholeField:
    return WholeField(
        label=label,
        least=0,
        most=MOST_COUNTED,
        required=False,
        help_text=help_text,
        widget=forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"}),
    )


class BallparkForm(OnceForm):
    """The size, what comes out, what goes in, what stands in the way; who calls."""

    size = LineField(
        label="Size of the floor",
        most=LONGEST_SIZE,
        help_text="Square feet, such as 370; or rooms in feet, such as 12 x 14 + 10 x 11.",
        error_messages={"required": "Nothing was typed; accepted: 370, or 12 x 14 + 10 x 11."},
    )
    old_floor = forms.ChoiceField(label="What comes out", choices=OLD_FLOORS)
    flooring = forms.ChoiceField(label="Plank", required=False)
    flooring_ft2 = FigureField(
        label="or its cost, a ft²", places=PRICE_PLACES, most=LARGEST_AMOUNT, required=False
    )
    pad = forms.BooleanField(label="A separate pad goes under it", required=False)
    base = forms.ChoiceField(label="Base", choices=BASES)
    doors = _count("Doors", "With casings to undercut, off and on again.")
    strips = _count("Strips at doorways")
    steps = _count("Steps to cover")
    furniture = _count("Rooms of furniture")
    toilets = _count("Toilets")
    appliances = _count("Appliances")
    name = LineField(label="Caller", most=120, required=False)
    phone = LineField(label="Phone", most=40, required=False)

    def __init__(self, data: Data = None, *, planks: Mapping[str, Decimal], currency: str) -> None:
        super().__init__(data, initial={"old_floor": "unknown", "base": "unknown"})
        self.planks = planks
        priced = [(name, f"{name}, {money(cost, currency)}") for name, cost in planks.items()]
        none = ("", "The caller has the planks")
        self.fields["flooring"] = forms.ChoiceField(
            label="Plank, cost a ft²", choices=[none, *priced], required=False
        )
        self.order_fields(BallparkForm.base_fields)

    def clean_size(self) -> RoughSize:
        """Return the size as it is meant. Raises ValidationError with what is accepted."""
        text = self.cleaned_data["size"]
        try:
            return size_said(text)
        except BadValueError as bad:
            message = f"“{text}” can't be used; accepted: {bad.accepted}."
            raise ValidationError(message) from None

    def clean(self) -> Cleaned:
        """Refuse a plank that is chosen and typed too."""
        cleaned = super().clean() or {}
        if cleaned.get("flooring") and cleaned.get("flooring_ft2") is not None:
            said = "A plank is chosen above; accepted: its price, or a cost typed here."
            self.add_error("flooring_ft2", said)
        return cleaned

    @property
    def floor(self) -> RoughFloor:
        """What was said, of a valid form."""
        data = self.cleaned_data
        typed = data["flooring_ft2"]
        return RoughFloor(
            size=data["size"],
            old_floor=data["old_floor"],
            base=data["base"],
            flooring_ft2=self.planks.get(data["flooring"]) if typed is None else typed,
            pad=data["pad"],
            **{name: data[name] or 0 for name in COUNTS},
        )

    @property
    def values(self) -> Values:
        """What of a valid form is kept as it was said."""
        data = self.cleaned_data
        plank = data["flooring_ft2"]
        said = {name: data[name] for name in FLOOR_FIELDS if name != "flooring_ft2"}
        return {
            "name": data["name"],
            "phone": data["phone"],
            "size": str(self["size"].value()).strip(),
            "floor": said | {"flooring_ft2": "" if plank is None else str(plank)},
        }


class StartForm(OnceForm):
    """The client and the job that a ballpark becomes."""

    name = LineField(label="Client", most=120)
    phone = LineField(label="Phone", most=40, required=False)
    address = text_field("Site address", 400, rows=3, required=True)
    title = LineField(label="What it is", most=120)

    def __init__(self, data: Data = None, **options: Unpack[FormOptions]) -> None:
        super().__init__(data, **options)
        accepted = "accepted: a text of up to 120 characters."
        for label in ("name", "title"):
            self.fields[label].error_messages["required"] = f"Nothing was typed; {accepted}"
