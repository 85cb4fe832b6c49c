"""The form of a production rate."""

from __future__ import annotations

from decimal import Decimal

from django import forms

from jobs.domain.quantities import CATALOG
from jobs.domain.scope.rates import ProductionRate
from jobs.domain.tasks import TASKS
from jobs.forms.base import NumberField, PlainForm, VersionedForm, WholeField

WORK = tuple(
    (f"{task}:{driver}", f"{kind.label}: {CATALOG[driver].label}, {CATALOG[driver].unit}")
    for task, kind in TASKS.items()
    if task != "travel"  # its hours belong to the company's trip
    for driver in kind.drivers
)


class RateForm(VersionedForm):
    """How many man-hours so many units of a work take, and where the figure comes from."""

    work = forms.ChoiceField(label="Work, and what drives it", choices=WORK)
    item = forms.CharField(
        label="Only for",
        max_length=40,
        required=False,
        help_text="Such as tile, for the old floor; empty: for any.",
    )
    hours = NumberField(label="Hours of one person", least=Decimal(0), most=Decimal(999), places=6)
    per = NumberField(label="For so many units", least=Decimal("0.01"), most=Decimal(99_999))
    source = forms.CharField(
        label="Where it comes from",
        max_length=160,
        help_text="Such as: our own, timed on three jobs.",
    )

    @property
    def values(self) -> dict[str, object]:
        """The cleaned values under the names of the rate's fields."""
        task, _, driver = self.cleaned_data["work"].partition(":")
        figures = {name: self.cleaned_data[name] for name in ("item", "hours", "per", "source")}
        return {"task": task, "driver": driver, **figures}


def initial_rate(rate: ProductionRate) -> dict[str, object]:
    """Return a rate as the form's initial values."""
    return {
        "work": f"{rate.task_code}:{rate.driver}",
        "item": rate.item,
        "hours": f"{rate.hours.normalize():f}",
        "per": f"{rate.per.normalize():f}",
        "source": rate.source,
    }


class TrialForm(PlainForm):
    """So much work at a rate: how many people, their day, what of it they work, how well."""

    amount = NumberField(
        label="So many units of work", least=Decimal("0.01"), most=Decimal(999_999)
    )
    people = WholeField(label="People", least=1, most=60, initial=2)
    day = NumberField(label="Hours of a day", least=Decimal(1), most=Decimal(12), initial="8")
    there = NumberField(
        label="Of which they are at the work, %",
        least=Decimal(1),
        most=Decimal(100),
        initial="100",
        help_text="Published: 75 to 85.",
    )
    efficiency = NumberField(
        label="How well it goes, %",
        least=Decimal(25),
        most=Decimal(100),
        initial="67",
        help_text="67 is the average crew; the mean of eight conditions, each 25 to 100.",
    )
