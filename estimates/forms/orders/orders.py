"""The forms of change orders: a word on the spot, a draft and its lines, what is sent, answers."""

from __future__ import annotations

from decimal import Decimal

from django import forms

from estimates.forms.fields import LARGEST_AMOUNT, LARGEST_QUANTITY, person_name
from estimates.models import ChangeDraft, ChangeLineKind
from jobs.forms.base import Cleaned, NumberField, OnceForm, PlainForm, VersionedForm, text_field

ORDER_NUMBER = "Your payer's own number for this change, where they gave one."


def _amount() -> NumberField:
    return NumberField(
        label="Change of price, before sales tax", least=-LARGEST_QUANTITY, most=LARGEST_QUANTITY
    )


class ChangeForm(OnceForm):
    """The word on a change of scope: its price and who agreed."""

    amount = _amount()
    agreed_by = forms.CharField(label="Agreed by", max_length=120)
    seen = forms.CharField(max_length=64, widget=forms.HiddenInput)

    def clean_agreed_by(self) -> str:
        """Refuse what is no name."""
        return person_name(self.cleaned_data["agreed_by"])


class DraftForm(VersionedForm):
    """What is changed, why, who wants it, and whether the plan's change belongs to it."""

    text = text_field("What is changed", ChangeDraft.LONGEST, rows=3, required=True)
    why = text_field("Why", ChangeDraft.LONGEST, rows=2)
    asked_by = forms.CharField(label="Who wants it", max_length=120, required=False)
    noted_on = forms.DateField(label="Wanted since", widget=forms.DateInput(attrs={"type": "date"}))
    order_number = forms.CharField(
        label="The payer's order number", max_length=60, required=False, help_text=ORDER_NUMBER
    )
    with_plan = forms.BooleanField(
        label="What the plan changes belongs to it",
        required=False,
        help_text="What differs from the agreed scope is then priced with it.",
    )

    @property
    def values(self) -> dict[str, object]:
        """The cleaned values under the names of the draft's fields."""
        names = ("text", "why", "asked_by", "noted_on", "order_number", "with_plan")
        return {name: self.cleaned_data[name] for name in names}


class LineForm(OnceForm):
    """A line that the plan does not count."""

    label = forms.CharField(label="What it is", max_length=120)
    kind = forms.ChoiceField(label="Priced", choices=ChangeLineKind.choices)
    quantity = NumberField(label="How much", least=Decimal("0.01"), most=LARGEST_QUANTITY)
    unit = forms.CharField(
        label="Unit", max_length=20, required=False, help_text="Hours need none."
    )
    each = NumberField(
        label="One costs us, or is charged at",
        least=Decimal(0),
        most=Decimal(LARGEST_AMOUNT),
        places=4,
        required=False,
        help_text="Of hours leave it empty: they are at the rate of the quote.",
    )
    taxable = forms.BooleanField(label="Taxed as material", required=False)

    def clean(self) -> Cleaned:
        """Ask for unit and price of what isn't hours."""
        data = super().clean() or self.cleaned_data
        if data.get("kind") in (None, ChangeLineKind.HOURS):
            return data
        if not data.get("unit") and "unit" not in self.errors:
            self.add_error("unit", "Nothing was typed; accepted: a unit, such as each or ft.")
        if data.get("each") is None and "each" not in self.errors:
            self.add_error("each", "Nothing was typed; accepted: what one costs or is charged at.")
        return data

    @property
    def values(self) -> dict[str, object]:
        """The cleaned values under the names of the line's fields."""
        names = ("label", "kind", "quantity", "unit", "each", "taxable")
        return {name: self.cleaned_data[name] for name in names}


class SendForm(OnceForm):
    """The word to send a change: its amount, as it was seen."""

    amount = _amount()
    seen = forms.CharField(max_length=64, widget=forms.HiddenInput)


class AcceptChangeForm(PlainForm):
    """The client's word on a change: the name typed, and that it was read."""

    name = forms.CharField(label="Your name", max_length=120)
    read = forms.BooleanField(
        label="I have read this change order and accept it.",
        error_messages={"required": "Tick the box to accept; without it nothing is agreed."},
    )

    def clean_name(self) -> str:
        """Refuse what is no name."""
        return person_name(self.cleaned_data["name"])


class RecordChangeForm(AcceptChangeForm):
    """The client's word given on the phone or on paper, recorded by the office."""

    name = forms.CharField(label="Who accepted", max_length=120)
    read = forms.BooleanField(
        label="The client has read the change order and accepts it.",
        error_messages={"required": "Tick the box once the client has accepted."},
    )


class DeclineChangeForm(PlainForm):
    """The client's no, with a reason if they like."""

    reason = text_field("Why, if you like to say", 1000, rows=2)
