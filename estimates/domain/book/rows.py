"""A row of the price book: one price of one thing from a day on, and all that is known of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimates.domain.book.groups import GROUP_OF
from estimates.domain.book.packs import PackPrice, Per
from jobs.domain.checks import BadValueError, require_choice, require_text

LIMITS = {"item": 120, "label": 120, "supplier": 120, "our_code": 40, "tax_class": 60}
"""The longest text of each field, in characters."""

FIRST_DAY, LAST_DAY = date(2000, 1, 1), date(2100, 12, 31)


@dataclass(frozen=True, kw_only=True, slots=True)
class BookRow:
    """One price: what it is for, how it is packed, from when, by whom, how it is taxed."""

    code: str
    label: str
    amount: Decimal
    per: Per
    effective_from: date
    last_seen: date
    item: str = ""
    pack: str = ""
    covers: Decimal | None = None
    supplier: str = ""
    our_code: str = ""
    tax_class: str = ""
    taxable: bool = True
    special_order: bool = False
    returnable: bool = True

    def __post_init__(self) -> None:
        """Refuse an unknown code, a text that is too long, a day out of bounds, a bad price."""
        require_choice("code", self.code, GROUP_OF)
        require_text("label", self.label)
        for name, most in LIMITS.items():
            text = getattr(self, name)
            if len(text) > most:
                accepted = f"up to {most} characters"
                raise BadValueError(field=name, value=f"{len(text)} characters", accepted=accepted)
        for name in ("effective_from", "last_seen"):
            if not FIRST_DAY <= getattr(self, name) <= LAST_DAY:
                accepted = f"a day from {FIRST_DAY} to {LAST_DAY}"
                raise BadValueError(field=name, value=str(getattr(self, name)), accepted=accepted)
        self.price.refuse_unknown_cost()

    @property
    def price(self) -> PackPrice:
        """The price alone, by pack and by measure."""
        return PackPrice(
            code=self.code, amount=self.amount, per=self.per, pack=self.pack, covers=self.covers
        )

    @property
    def key(self) -> tuple[str, str, date]:
        """Code, item and day: what tells this price from every other."""
        return (self.code, self.item, self.effective_from)
