"""A price or a rate changed where it stands on the price page of a job."""

from __future__ import annotations

from decimal import Decimal

from django import forms
from django.http import QueryDict

from estimates.forms.price_needs import NeedForm
from estimates.readers.price_groups import RateInForce
from estimates.readers.price_needs import NeededPrice
from jobs.domain.quantities import CATALOG
from jobs.domain.tasks import TASKS
from jobs.forms.base import Cleaned, Data, NumberField, OnceForm, VersionedForm
from jobs.models.base import Values
from jobs.services.records import StaleError

OUR_SOURCE = "our own"
"""Where a rate comes from that somebody typed on a price page."""


class PriceHereForm(NeedForm, OnceForm):
    """What one thing of the book costs from today on, for every job."""

    def __init__(self, needed: NeededPrice, data: Data = None) -> None:
        super().__init__(needed, data, prefix="here")
        self.fields["amount"].required = True
        self.fields["amount"].error_messages["required"] = (
            "Nothing was typed; accepted: a number such as 61.50."
        )
        # Whoever saves the price that stands has looked it up: it is still right.
        self.fields.pop("still", None)

    def _note_overtaken(self, stale: StaleError) -> None:
        """Let the next sending answer the price that stands by now."""
        super()._note_overtaken(stale)
        data = QueryDict(mutable=True)
        data.update(self.data)
        data[self.add_prefix("row")] = str(stale.current.pk)
        self.data = data

    def clean(self) -> Cleaned:
        """Take the price that stands for an answer too."""
        cleaned = super().clean()
        cleaned["still"] = True
        return cleaned


class RateHereForm(VersionedForm):
    """How many man-hours so many units take from now on, for every job."""

    task = forms.ChoiceField(choices=[(code, code) for code in TASKS], widget=forms.HiddenInput)
    driver = forms.ChoiceField(choices=[(code, code) for code in CATALOG], widget=forms.HiddenInput)
    item = forms.CharField(max_length=40, required=False, widget=forms.HiddenInput)
    hours = NumberField(label="Hours", least=Decimal(0), most=Decimal(999), places=6)

    def __init__(self, stands: RateInForce, data: Data = None) -> None:
        rate = stands.rate
        initial = {
            "task": rate.task_code,
            "driver": rate.driver,
            "item": rate.item,
            "hours": f"{rate.hours.normalize():f}",
        }
        super().__init__(data, version=stands.version, prefix="rate", initial=initial)
        self.stands = stands
        label = f"Hours {stands.per_words}: {stands.label}"
        self.fields["hours"].widget.attrs |= {"inputmode": "decimal", "aria-label": label}

    @property
    def values(self) -> Values:
        """The rate as it is saved: these hours for as many units as before."""
        rate = self.stands.rate
        return {
            "task": rate.task_code,
            "driver": rate.driver,
            "item": rate.item,
            "hours": self.cleaned_data["hours"],
            "per": rate.per,
            "source": OUR_SOURCE,
        }
