"""Money: the one place where it is rounded, shared out and turned from cost into price.

Amounts are decimals of one currency; shares are parts of one. Cents are rounded half up; lines are
rounded first and summed then, so that a reader who adds them up finds the total.
"""

from collections.abc import Iterable, Sequence
from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal

from estimates.domain.price_book import TaxBasis
from jobs.domain.checks import ONE, ZERO, BadValueError, require_number

CENT = Decimal("0.01")
SHARE = Decimal("0.0001")
ZERO_CENTS = Decimal("0.00")
UNIT_COST = Decimal("0.000001")
"""How fine the cost of a unit is kept that was divided out of a pack; lines are in cents."""


def cents(amount: Decimal) -> Decimal:
    """Return money in whole cents, half a cent up (away from nought for a credit).

    Source: Streamlined Sales and Use Tax Agreement, section 324: carried to the third decimal,
    rounded up where that digit is greater than four.
    """
    return amount.quantize(CENT, ROUND_HALF_UP)


def rounded_down(amount: Decimal) -> Decimal:
    """Return money in whole cents, what is less than a cent left off: for what a law caps."""
    return amount.quantize(CENT, ROUND_FLOOR)


def round_to(amount: Decimal, step: int) -> Decimal:
    """Return money to the nearest whole `step`, half a step up; in cents."""
    require_number("step", step, above=0)
    return (amount / step).quantize(ONE, ROUND_HALF_UP) * step + ZERO_CENTS


def tidy(amount: Decimal) -> Decimal:
    """Return the same amount with two places, or with as many as say something."""
    short = amount.normalize()
    return short if short.as_tuple().exponent < -2 else amount.quantize(CENT)  # type: ignore[operator]


def price_of_pack(by_measure: Decimal, covers: Decimal) -> Decimal:
    """Return what a pack costs that covers so much, at a price by what it covers; not rounded.

    17 cartons of 23.3 ft2 at 2.62 a ft2 are billed as 396.1 ft2, so only their line is rounded.
    """
    require_number("covers", covers, above=0)
    return tidy(by_measure * covers)


def price_of_measure(by_pack: Decimal, covers: Decimal) -> Decimal:
    """Return what one unit costs of what a pack covers, to six places."""
    require_number("covers", covers, above=0)
    return tidy((by_pack / covers).quantize(UNIT_COST, ROUND_HALF_UP))


def to_unit_cost(amount: Decimal) -> Decimal:
    """Return what one unit costs to four places: a screw is less than a cent."""
    return amount.quantize(SHARE, ROUND_HALF_UP)


def share(part: Decimal, whole: Decimal) -> Decimal | None:
    """Return part / whole to four decimals; None of nothing."""
    return (part / whole).quantize(SHARE, ROUND_HALF_UP) if whole else None


def price_at_margin(cost: Decimal, margin: Decimal) -> Decimal:
    """Return the price in cents that leaves `margin` of itself above `cost`."""
    require_number("margin", margin, least=0, below=1)
    return cents(cost / (ONE - margin))


def margin_of(price: Decimal, cost: Decimal) -> Decimal | None:
    """Return profit as a part of the price, four decimals; None at no price."""
    return share(price - cost, price)


def markup_of(price: Decimal, cost: Decimal) -> Decimal | None:
    """Return profit as a part of the cost, four decimals; None at no cost."""
    return share(price - cost, cost)


def per_crew_day(amount: Decimal, hours: Decimal, crew_hours_per_day: Decimal) -> Decimal | None:
    """Return an amount by the crew's days that these man-hours fill, in cents; None at no hours."""
    return cents(amount * crew_hours_per_day / hours) if hours else None


def sales_tax(amounts: Iterable[Decimal], rate: Decimal, basis: TaxBasis) -> Decimal:
    """Return the tax in cents, rounded for each item or once for the invoice.

    Source: Streamlined Sales and Use Tax Agreement, section 324; the seller chooses the basis.
    """
    require_number("tax rate", rate, least=0, below=1)
    if basis == "item":
        return sum((cents(amount * rate) for amount in amounts), ZERO)
    return cents(sum(amounts, ZERO) * rate)


def spread(total: Decimal, weights: Sequence[Decimal]) -> tuple[Decimal, ...]:
    """Return `total` in cents shared out by weight, by largest remainder: the parts sum to it.

    Raises BadValueError for negative weights, and where there is something to share and no weight.
    """
    for weight in weights:
        require_number("weight", weight, least=0)
    whole = sum(weights, ZERO)
    if not whole:
        if total:
            raise BadValueError(field="weights", value=whole, accepted="a sum of more than 0")
        return tuple(ZERO for _ in weights)
    exact = [total * weight / whole for weight in weights]
    parts = [part.quantize(CENT, ROUND_FLOOR) for part in exact]
    left = int((total - sum(parts, ZERO)) / CENT)
    by_remainder = sorted(range(len(parts)), key=lambda place: parts[place] - exact[place])
    for place in by_remainder[:left]:
        parts[place] += CENT
    return tuple(parts)
