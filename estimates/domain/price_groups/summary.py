"""What stands above a price: what it is made of, and how far it may slip before nothing is left."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from estimates.domain.money import share
from estimates.domain.price_groups.groups import by_foot
from estimates.domain.priced import Priced
from estimates.domain.terms.booked import per_day
from jobs.domain.checks import ONE
from jobs.domain.scope.rates import to_hundredths


@dataclass(frozen=True, kw_only=True, slots=True)
class PriceShare:
    """A part of a price, and the share of the price that it is; None at no price."""

    label: str
    amount: Decimal
    share: Decimal | None


@dataclass(frozen=True, kw_only=True, slots=True)
class PriceSummary:
    """The figures of a price before sales tax.

    `break_even` is the price at which no profit is left; by the day on site it still brings the
    overhead. `hours_to_spare` are the man-hours over those planned that take all of the profit,
    each with its overhead; negative where the price is below cost, None where no hour is paid.
    """

    price: Decimal
    per_ft2: Decimal | None
    shares: tuple[PriceShare, ...]
    direct_cost: Decimal
    contribution: Decimal
    break_even: Decimal
    break_even_per_day: Decimal | None
    hours_to_spare: Decimal | None

    @property
    def lacking(self) -> Decimal:
        """What a price below cost lacks; less than nothing above it."""
        return self.break_even - self.price


def summary_of(priced: Priced, area_ft2: Decimal | None) -> PriceSummary:
    """Return what stands above a price. Its shares are in the order in which they are drawn."""
    parts = (
        ("Materials", priced.material_cost + priced.use_tax),
        ("Labor", priced.labor_cost),
        ("Allowances, own lines", priced.allowance_cost + priced.added_cost),
        ("Overhead", priced.overhead),
        ("Margin", priced.profit),
    )
    return PriceSummary(
        price=priced.subtotal,
        per_ft2=by_foot(priced.subtotal, area_ft2),
        shares=tuple(
            PriceShare(label=label, amount=amount, share=share(amount, priced.subtotal))
            for label, amount in parts
            if amount
        ),
        direct_cost=priced.direct_cost,
        contribution=priced.contribution,
        break_even=priced.cost,
        break_even_per_day=per_day(priced.overhead, priced.days_on_site),
        hours_to_spare=_hours_to_spare(priced),
    )


def _hours_to_spare(priced: Priced) -> Decimal | None:
    if priced.basis is None or not priced.hours:
        return None
    an_hour = priced.basis.burdened_rate * (ONE + priced.basis.overhead)
    return to_hundredths(priced.profit / an_hour)
