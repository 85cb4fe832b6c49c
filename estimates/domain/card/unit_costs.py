"""What one unit of a card's row costs us by the hours, overhead included: held beside its rate.

Where a row's work hangs on more than the row counts (laying on pieces and cuts, leveling on
primer), the rest is named, and the cost is a least one. Laying alone is also known from floors that
were reckoned before.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from estimates.domain.money import cents, price_at_margin
from estimates.domain.price_book import HALF_DAY, USUAL_COVERS, PriceBook, PricingTerms
from jobs.domain.checks import ONE, ZERO
from jobs.domain.quantities import CATALOG
from jobs.domain.scope.rates import ProductionRate, find_rate, hours_for
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.tasks import TASKS

LAYING = "floor_area"

WITH_ONE: Mapping[str, tuple[str, ...]] = {
    "treads": ("risers", "nosings"),
    "base_on": ("base_off",),
    LAYING: ("pad_area",),
}
"""What comes with each unit of a row, one for one: a step is a tread with its riser and nosing."""


@dataclass(frozen=True, kw_only=True, slots=True)
class UnitCost:
    """What one unit costs: man-hours, material with its tax, and all with overhead, in cents.

    `beside` are in words what comes on top, by job; `scopes` how many floors the hours are from,
    0: from the production rates.
    """

    hours: Decimal
    material: Decimal
    cost: Decimal
    beside: tuple[str, ...] = ()
    scopes: int = 0

    def at_margin(self, terms: PricingTerms) -> Decimal:
        """Return the rate that would leave the margin above this cost."""
        return price_at_margin(self.cost, terms.margin)


def unit_cost(
    code: str,
    item: str,
    *,
    rates: Sequence[ProductionRate],
    book: PriceBook,
    terms: PricingTerms,
) -> UnitCost:
    """Return what a unit of a row costs by the production rates and the prices in force."""
    if code == HALF_DAY:
        return _costing(terms.crew_hours_per_day / 2, ZERO, (), book, terms)
    hours, beside = ZERO, []
    for task in USUAL_COVERS[code].tasks:
        for driver in TASKS[task].drivers:
            rate = find_rate(rates, task, driver, item)
            if rate and driver in (code, *WITH_ONE.get(code, ())):
                hours += hours_for(ONE, rate)
            elif driver not in USUAL_COVERS:
                beside.append(CATALOG[driver].label)
    material, unpriced = _material(code, item, book, terms)
    return _costing(hours, material, (*beside, *unpriced), book, terms)


def _material(
    code: str, item: str, book: PriceBook, terms: PricingTerms
) -> tuple[Decimal, list[str]]:
    """What the material of one unit costs with the tax on it, and in words what has no figure."""
    cost, unknown = ZERO, []
    for material in USUAL_COVERS[code].materials:
        price = book.find("material", material, item, terms.as_of)
        if material != code or price is None:
            unknown.append(CATALOG[material].label)
        elif terms.tax_mode == "consumer" and price.taxable:
            cost += price.amount * (ONE + terms.tax_rate)
        else:
            cost += price.amount
    return cost, unknown


def laying_cost(
    scopes: Iterable[FrozenScope], book: PriceBook, terms: PricingTerms
) -> UnitCost | None:
    """Return what a foot of these floors took, all that laying pays for; None of no floor."""
    feet = hours = ZERO
    count = 0
    for scope in scopes:
        laid = [entry.amount for entry in scope.quantities if entry.code == LAYING]
        feet += sum(laid, ZERO)
        paid = USUAL_COVERS[LAYING].tasks
        hours += sum((task.hours for task in scope.tasks if task.code in paid), ZERO)
        count += bool(sum(laid, ZERO))
    if not feet:
        return None
    return _costing(hours / feet, ZERO, (), book, terms, count)


def _costing(
    hours: Decimal,
    material: Decimal,
    beside: tuple[str, ...],
    book: PriceBook,
    terms: PricingTerms,
    scopes: int = 0,
) -> UnitCost:
    direct = hours * book.burdened_rate + material
    return UnitCost(
        hours=hours,
        material=cents(material),
        cost=cents(direct * (ONE + terms.overhead)),
        beside=tuple(dict.fromkeys(beside)),
        scopes=scopes,
    )
