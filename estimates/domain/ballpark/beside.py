"""A price beside the ballpark that its job was begun from: how far off the ballpark was. Pure."""

from __future__ import annotations

from decimal import Decimal

from jobs.domain.figures import money, percent

NEAR = Decimal("0.15")
"""A first estimate within this part of the detailed one is good. NAVEDTRA, Builder 3 & 2, ch. 9."""


def off_by(least: Decimal, most: Decimal, price: Decimal) -> Decimal:
    """Return by what part of the price the middle of a ballpark lies off it."""
    return abs((least + most) / 2 - price) / price


def beside_ballpark(least: Decimal, most: Decimal, price: Decimal, currency: str) -> str:
    """Return how a ballpark stands beside the price before tax; empty where there is no price."""
    if price <= 0:
        return ""
    off = off_by(least, most, price)
    end = (
        f"within {percent(NEAR)}, which is good"
        if off <= NEAR
        else f"more than {percent(NEAR)}: look at what was said and left out"
    )
    return (
        f"The ballpark was {money(least, currency)} to {money(most, currency)}; its middle lies "
        f"{percent(off)} off this price before sales tax, {end} (NAVEDTRA, Builder 3 & 2, ch. 9)."
    )
