"""Missing and old prices, answered beside each and saved in one go."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal

from django import forms
from django.http import QueryDict

from estimates.domain.book.groups import GROUP_OF, is_loose
from estimates.domain.book.packs import PackPrice
from estimates.forms.prices import covers_field, name_fields, price_field, refusal, say_packs
from estimates.models import PriceItem
from estimates.readers.price_needs import NeededPrice
from estimates.readers.price_rows import price_in
from estimates.services.prices import PriceAnswer
from jobs.domain.checks import BadValueError
from jobs.domain.quantities import CATALOG
from jobs.forms.base import Cleaned, Data, OnceForm, PlainForm
from jobs.forms.versions import version_field

NOTHING = "Nothing was typed; accepted: a price beside one of them at least, or “Still right”."

NOTHING_RIGHT = "Nothing was typed; accepted: the price that is still right."


class NeedsForm(OnceForm):
    """The frame of the list: how many are in it, and the key that makes it count once."""

    count = forms.IntegerField(min_value=1, max_value=200, widget=forms.HiddenInput)


class NeedForm(PlainForm):
    """A thing whose price is missing or old, and what somebody says of it; left empty, nothing."""

    code = forms.ChoiceField(choices=[(code, code) for code in GROUP_OF], widget=forms.HiddenInput)
    item = forms.CharField(max_length=120, required=False, widget=forms.HiddenInput)
    row = forms.IntegerField(required=False, widget=forms.HiddenInput)
    version = version_field(required=False)
    amount = price_field(required=False)
    per = forms.ChoiceField(label="For one", choices=())
    covers = covers_field()
    still = forms.BooleanField(label="Still right", required=False)

    def __init__(
        self, needed: NeededPrice, data: Data = None, *, place: int = 0, prefix: str = ""
    ) -> None:
        initial = _initial_of(needed)
        super().__init__(data, prefix=prefix or f"need{place}", initial=initial)
        self.needed = needed
        price = _usual_price(needed)
        say_packs(self, price)
        if not price.pack:
            # Sold loose: its price is for one, and no pack is there to cover anything.
            del self.fields["per"], self.fields["covers"]
        if needed.row is None:
            del self.fields["still"]
        name_fields(self, needed.label)

    @property
    def title(self) -> str:
        """What is to be priced."""
        return self.needed.label

    @property
    def measure(self) -> str:
        """What a pack of it is counted in."""
        return _usual_price(self.needed).measure

    @property
    def seen(self) -> date | None:
        """When the old price was last seen."""
        row = self.needed.row
        return None if row is None else row.last_seen or row.effective_from

    def clean(self) -> Cleaned:
        """Refuse a price by the measure where nobody said what a pack covers."""
        cleaned = super().clean() or {}
        if self.errors:
            return cleaned
        if cleaned.get("amount") is None:
            if cleaned.get("still"):
                self.add_error("amount", NOTHING_RIGHT)
            return cleaned
        pack = _usual_price(self.needed).pack
        try:
            PackPrice(code=self.needed.code, pack=pack, **self._figures())
        except BadValueError as bad:
            self.add_error(bad.field if bad.field in self.fields else "amount", refusal(bad))
        return cleaned

    def _figures(self) -> Cleaned:
        """Return what was typed of the price; what is sold loose has only an amount."""
        typed = self.cleaned_data
        return {
            "amount": typed["amount"],
            "per": typed.get("per", "measure"),
            "covers": typed.get("covers"),
        }

    @property
    def answer(self) -> PriceAnswer | None:
        """What somebody said; None where nothing was typed."""
        typed = self.cleaned_data
        if typed.get("amount") is None:
            return None
        row = self.needed.row
        figures = self._figures()
        if row is not None and not typed.get("still"):
            stands = price_in(row)
            if figures == {name: getattr(stands, name) for name in figures}:
                return None
        return PriceAnswer(
            code=self.needed.code,
            item=self.needed.item,
            row=typed.get("row"),
            version=typed.get("version") or 0,
            **figures,
        )


def need_forms(needs: Sequence[NeededPrice], data: QueryDict | None = None) -> list[NeedForm]:
    """Return a form for each thing that needs a price."""
    return [NeedForm(needed, data, place=place) for place, needed in enumerate(needs)]


def answers_of(forms_sent: Iterable[NeedForm]) -> list[PriceAnswer]:
    """Return what was said in forms that are valid."""
    return [answer for form in forms_sent if (answer := form.answer) is not None]


def things_in(data: QueryDict, count: int) -> list[tuple[str, str]]:
    """Return code and item of each thing in a list that was sent."""
    named = [(data.get(f"need{n}-code", ""), data.get(f"need{n}-item", "")) for n in range(count)]
    known = all(code in GROUP_OF for code, _ in named)
    return [(str(code), str(item)) for code, item in named] if known else []


def seen_anew(data: QueryDict, needs: Sequence[NeededPrice]) -> QueryDict:
    """Return what was typed, as an answer to the prices that stand now."""
    fresh = data.copy()
    for place, needed in enumerate(needs):
        row: PriceItem | None = needed.row
        fresh[f"need{place}-row"] = str(row.pk) if row else ""
        fresh[f"need{place}-version"] = str(row.version) if row else ""
    return fresh


def _initial_of(needed: NeededPrice) -> dict[str, object]:
    row, price = needed.row, _usual_price(needed)
    covers = price.covers or needed.covers
    initial: dict[str, object] = {"code": needed.code, "item": needed.item, "covers": covers}
    initial["per"] = price.per
    if row is not None:
        initial |= {"row": row.pk, "version": row.version, "amount": price.amount}
    return initial


def _usual_price(needed: NeededPrice) -> PackPrice:
    """Return the price that stands, else one of nothing in the pack that the catalog names."""
    if needed.row is not None:
        return price_in(needed.row)
    if is_loose(needed.code):
        return PackPrice(code=needed.code, amount=Decimal(0), per="measure")
    return PackPrice(
        code=needed.code, amount=Decimal(0), per="pack", pack=CATALOG[needed.code].unit
    )
