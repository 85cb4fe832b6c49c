"""What a price book lacks: prices that are missing, and prices that nobody has seen for long."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from estimates.domain.price_book import Price, PriceBook, PricingTerms
from jobs.domain.quantities import CATALOG
from jobs.domain.scope.scope import FrozenScope

PRICE_GOOD_DAYS = 180
"""After so many days a price is looked up anew: common practice, no source."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Need:
    """A thing to be priced: its code and item, and the price that is too old; None: none is."""

    code: str
    item: str
    price: Price | None = None

    @property
    def label(self) -> str:
        """What it is in words."""
        label = CATALOG[self.code].label
        return f"{label}, {self.item}" if self.item else label


def is_stale(seen: date, today: date) -> bool:
    """Whether a price that was last seen on a day is to be looked up anew."""
    return seen < oldest_good(today)


def oldest_good(today: date) -> date:
    """Return the day on or after which a price must have been seen to be good today."""
    return today - timedelta(days=PRICE_GOOD_DAYS)


def needs_of(scope: FrozenScope, book: PriceBook, terms: PricingTerms) -> tuple[Need, ...]:
    """Return what this scope takes that has no price, or one too old, each thing once.

    A missing price is asked for the thing itself (this product, this profile); an old one for
    what it was set for, which may be any of its kind.
    """
    today = date.fromisoformat(terms.as_of)
    needs = {}
    for entry in scope.quantities:
        if entry.kind != "material" or not entry.amount or terms.buys(entry.code, entry.item):
            continue
        price = book.find("material", entry.code, entry.item, terms.as_of)
        if price is None:
            need = Need(code=entry.code, item=entry.item)
        elif is_stale(date.fromisoformat(price.seen or price.effective), today):
            need = Need(code=price.code, item=price.item, price=price)
        else:
            continue
        needs[need.code, need.item] = need
    return missing_first(needs.values())


def missing_first(needs: Iterable[Need]) -> tuple[Need, ...]:
    """Return needs with the missing before the old, each in the order given."""
    return tuple(sorted(needs, key=lambda need: need.price is not None))
