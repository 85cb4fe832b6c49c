"""What floor layers are paid, to hold a labor rate against; what a year of it comes to. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from jobs.domain.figures import money

HOURLY: Mapping[int, Decimal] = {
    10: Decimal("18.08"),
    25: Decimal("21.95"),
    50: Decimal("27.15"),
    75: Decimal("35.50"),
    90: Decimal("46.49"),
}
"""Wages by the hour, of a hundred floor layers so many earn less; wages alone, without burden."""
SOURCE = "BLS, Occupational Employment and Wage Statistics, 47-2042, May 2025"
YEAR_HOURS = 2080
"""The hours by which the same statistics turn a year's wage into an hour's."""


def wage_sentences(rate: Decimal, currency: str) -> tuple[str, ...]:
    """Return what a labor rate is held against, what it comes to in a year, and whether it is low.

    Only in US dollars: the wages are those of the United States.
    """
    amount = money(rate * YEAR_HOURS, currency)
    year = f"A year of {YEAR_HOURS:,} hours at your labor rate comes to {amount}."
    if currency != "USD":
        return (year,)
    low, fourth, middle, three, high = (money(wage, currency) for wage in HOURLY.values())
    said = (
        f"Floor layers earn {middle} an hour in the middle, half of them {fourth} to {three}, one "
        f"in ten less than {low}, one in ten more than {high}, before taxes, insurance and "
        f"benefits ({SOURCE})."
    )
    if rate >= HOURLY[10]:
        return (said, year)
    return (said, year, f"The rate is below {low}: nine in ten are paid more, before any burden.")
