"""The prices and terms of an accepted quote, to price with them what changes afterwards. Pure.

What was agreed stays at its price whatever the book says by now. What the quote had no price for
has the one that was in force on the quote's day; where the book had none then, that of today.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from estimates.domain.money import share
from estimates.domain.price_book import HALF_DAY, Price, PriceBook, PriceKind, PricingTerms
from estimates.domain.priced import LABOR, Priced, PricedLine, amounts_of, costs_of
from estimates.domain.terms.basis import PriceUsed
from estimates.domain.terms.job_terms import Discount
from jobs.domain.checks import ONE, ZERO
from jobs.domain.scope.scope import FrozenScope

Key = tuple[PriceKind, str, str]
"""What tells a price from every other: kind, code, item."""
_KINDS: tuple[PriceKind, ...] = ("material", "adder")


@dataclass(frozen=True, kw_only=True, slots=True)
class AgreedPrice:
    """A scope that was agreed on, with what it was priced at."""

    scope: FrozenScope
    priced: Priced


def book_then(agreed: Sequence[AgreedPrice], known: PriceBook, today: str) -> PriceBook:
    """Return the prices of an accepted quote, the first of ``agreed``; its change orders follow.

    ``known`` are all prices that the company has, old ones too, for what none of them priced.
    """
    as_of = agreed[0].priced.as_of
    kept: dict[Key, Price] = {}
    without: set[Key] = set()
    for each in agreed:
        prices = _prices_of(each.priced, known)
        for key, price in _prices_of_scope(each, prices, without):
            kept.setdefault(key, replace(price, effective=min(price.effective, as_of)))
    for key in _keys(known.prices) - kept.keys() - without:
        other = known.find(*key, as_of) or known.find(*key, today)
        if other is not None and other.item == key[2]:
            kept[key] = replace(other, effective=min(other.effective, as_of))
    return PriceBook(
        prices=tuple(kept.values()),
        burdened_rate=rate_then(agreed[0].priced) or known.burdened_rate,
        currency=agreed[0].priced.currency,
    )


def priced_since(
    agreed: Sequence[AgreedPrice], now: FrozenScope, known: PriceBook, book: PriceBook
) -> tuple[str, ...]:
    """Return in words what of a scope had no price in the book on the quote's day.

    ``book`` is that of `book_then`.
    """
    as_of = agreed[0].priced.as_of
    before = {(entry.code, entry.item) for each in agreed for entry in each.scope.quantities}
    fresh = [e for e in now.quantities if e.amount and (e.code, e.item) not in before]
    return tuple(
        dict.fromkeys(
            entry.where
            for entry in fresh
            for kind in _KINDS
            if book.find(kind, entry.code, entry.item, as_of)
            and not known.find(kind, entry.code, entry.item, as_of)
        )
    )


def _prices_of_scope(
    each: AgreedPrice, book: PriceBook, without: set[Key]
) -> Iterable[tuple[Key, Price]]:
    """Yield the price of everything that was counted, and note in ``without`` what had no adder."""
    for entry in each.scope.quantities:
        for kind in _KINDS if entry.amount else ():
            key = (kind, entry.code, entry.item)
            price = book.find(*key, each.priced.as_of)
            if price is not None:
                yield key, replace(price, item=entry.item)
            elif kind == "adder":
                without.add(key)
    for price in book.prices:
        yield (price.kind, price.code, price.item), price
    without.add(("adder", HALF_DAY, ""))


def _keys(prices: Iterable[Price]) -> set[Key]:
    return {(price.kind, price.code, price.item) for price in prices}


def _prices_of(priced: Priced, known: PriceBook) -> PriceBook:
    """Return the prices that an estimate kept; those in force on its day where it kept none."""
    if priced.basis is not None:
        return replace(known, prices=tuple(_price(used) for used in priced.basis.prices))
    in_force = [known.find(*key, priced.as_of) for key in sorted(_keys(known.prices))]
    return replace(known, prices=tuple(dict.fromkeys(p for p in in_force if p is not None)))


def _price(used: PriceUsed) -> Price:
    return Price(
        code=used.code,
        item=used.item,
        label=used.label,
        unit=used.unit,
        amount=used.amount,
        kind=used.kind,
        effective=used.effective,
        seen=used.seen,
        taxable=used.taxable,
    )


def terms_then(priced: Priced, now: PricingTerms) -> PricingTerms:
    """Return the terms of an accepted quote, with what the job itself has of lines by now.

    A change is not rounded: it bills the difference and no more.
    """
    then = replace(
        now,
        as_of=priced.as_of,
        method=priced.method,
        tax_mode=priced.tax_mode,
        payer=priced.payer,
        round_to=0,
        barred=(),
    )
    basis = priced.basis
    if basis is None:
        return _older_terms(priced, then)
    return replace(
        then,
        overhead=basis.overhead,
        margin=basis.margin,
        minimum=basis.minimum,
        crew_hours_per_day=basis.crew_hours_per_day,
        tax_rates=basis.tax_rates,
        labor_taxed=basis.labor_taxed,
        certificate=basis.certificate,
        labor_only=basis.labor_only,
        discount=basis.discount,
    )


def rate_then(priced: Priced) -> Decimal | None:
    """Return what an hour cost with its burden in an estimate; None where it had no hour."""
    if priced.basis is not None:
        return priced.basis.burdened_rate
    return max((line.unit_cost for line in _labor(priced) if line.unit_cost), default=None)


def _labor(priced: Priced) -> list[PricedLine]:
    return [line for line in priced.lines if line.kind == LABOR]


def _older_terms(priced: Priced, then: PricingTerms) -> PricingTerms:
    """Return the terms of an estimate that did not keep them, as far as its figures tell them."""
    overhead = share(priced.overhead, priced.direct_cost)
    overhead = then.overhead if overhead is None else overhead
    margin = _margin(priced, overhead)
    off = -amounts_of(priced.lines, "discount")
    made_up = amounts_of(priced.lines, "minimum")
    before = amounts_of(line for line in priced.lines if line.kind not in ("discount", "rounding"))
    return replace(
        then,
        overhead=overhead,
        margin=then.margin if margin is None else margin,
        minimum=before if made_up else ZERO,
        discount=Discount(amount=off, reason="as quoted") if off > 0 else None,
    )


def _margin(priced: Priced, overhead: Decimal) -> Decimal | None:
    """Return the margin that material and labor were charged at; None where none was."""
    if priced.method == "cost":
        direct = [line for line in priced.lines if line.kind in ("material", LABOR)]
        cost = costs_of(direct) + priced.use_tax
    else:
        direct = [line for line in priced.lines if line.kind == "material" and line.amount]
        cost = costs_of(direct)
        if priced.tax_mode == "consumer" and priced.material_cost:
            cost += priced.use_tax * cost / priced.material_cost
    price = amounts_of(direct)
    return share(price - cost * (ONE + overhead), price) if price else None
