"""The forms of the rate card: one rate in its row, and what makes the price of a job."""

from __future__ import annotations

from datetime import date

from django import forms

from estimates.domain.book.rows import FIRST_DAY, LAST_DAY
from estimates.domain.card.rows import CardRow
from estimates.domain.price_book import USUAL_COVERS
from estimates.forms.fields import LARGEST_AMOUNT
from estimates.forms.job_price import PlainlyRefused
from estimates.forms.prices import FigureField
from estimates.models import PayerPrice, PricedBy, PriceItem
from jobs.forms.base import Data, VersionedForm
from jobs.models.base import Values
from jobs.services.records import StaleError

RATE_PLACES = 4
USUAL = "company"
"""The choice of a job that is priced as the company's jobs are."""


class CardRateForm(PlainlyRefused, VersionedForm):
    """The rate of one row; `row` is the rate that the person saw, empty where there was none."""

    amount = FigureField(label="Rate", places=RATE_PLACES, most=LARGEST_AMOUNT)
    effective_from = forms.DateField(
        label="In force from",
        widget=forms.DateInput(
            attrs={"type": "date", "min": FIRST_DAY.isoformat(), "max": LAST_DAY.isoformat()}
        ),
    )
    taxable = forms.BooleanField(label="Taxed as material", required=False)
    row = forms.IntegerField(min_value=1, required=False, widget=forms.HiddenInput)

    def __init__(
        self, row: CardRow, rate: PriceItem | PayerPrice | None, today: date, data: Data = None
    ) -> None:
        initial: dict[str, object] = {"effective_from": today.isoformat()}
        if rate is not None:
            day = max(today, rate.effective_from).isoformat()
            initial = {"amount": rate.amount, "effective_from": day, "row": rate.pk}
            initial["taxable"] = rate.taxable
        super().__init__(
            data,
            version=rate.version if rate else 1,
            prefix=f"rate-{row.code}-{row.item}".strip("-"),
            initial=initial,
        )
        if row.code not in USUAL_COVERS or not USUAL_COVERS[row.code].materials:
            del self.fields["taxable"]
        for field in (self.fields["amount"], self.fields["effective_from"]):
            field.widget.attrs["aria-label"] = f"{field.label}: {row.label}"

    def clean_effective_from(self) -> date:
        """Return the day. Raises ValidationError for one out of bounds."""
        day: date = self.cleaned_data["effective_from"]
        if not FIRST_DAY <= day <= LAST_DAY:
            accepted = f"accepted: a day from {FIRST_DAY} to {LAST_DAY}."
            raise forms.ValidationError(f"“{day}” can't be used; {accepted}")
        return day

    @property
    def values(self) -> Values:
        """The cleaned values under the names of the rate's fields."""
        taken = {name: self.cleaned_data[name] for name in ("amount", "effective_from")}
        return taken | {"taxable": bool(self.cleaned_data.get("taxable"))}

    def _note_overtaken(self, stale: StaleError) -> None:
        """Say what changed; the next sending is about the rate that stands now."""
        super()._note_overtaken(stale)
        self.data[self.add_prefix("row")] = str(stale.current.pk)  # type: ignore[index]


class MethodForm(VersionedForm):
    """What makes the price of a job: as the company's jobs, by its cost, or by the rate card."""

    chosen = forms.ChoiceField(label="This job is priced by", widget=forms.RadioSelect)

    def __init__(self, data: Data = None, *, method: str, version: int, company: str) -> None:
        super().__init__(data, version=version, initial={"chosen": method or USUAL})
        usual = f"As the company's jobs: {PricedBy(company).label}"
        self.fields["chosen"] = forms.ChoiceField(
            label="This job is priced by",
            choices=[(USUAL, usual), *PricedBy.choices],
            widget=forms.RadioSelect,
        )

    @property
    def method(self) -> str:
        """What was chosen; empty for what the company's jobs are priced by."""
        chosen: str = self.cleaned_data["chosen"]
        return "" if chosen == USUAL else chosen
