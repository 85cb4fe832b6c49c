"""Allowances: what work that nobody can count yet is sold for, by the unit, up to a cap.

A unit's cost is its material and its hours; its price is that of the rate card, or the cost with
overhead at the margin. What the scope counts already is never in the cap.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from estimates.domain.money import cents, price_at_margin, price_of_measure, to_unit_cost
from estimates.domain.price_book import PriceBook, PricingTerms
from jobs.domain.checks import ONE, ZERO
from jobs.domain.scope.rates import ProductionRate, find_rate
from jobs.domain.scope.rules import TakeoffRules, up
from jobs.domain.site.leveling import Survey

RULES = TakeoffRules()
MOST_UNITS = Decimal(9999)
"""A cap beyond it is a slip of the hand."""


@dataclass(frozen=True, kw_only=True, slots=True)
class AllowanceKind:
    """What one unit of an allowance takes: a material of the price book, and work by its driver.

    `task` empty: the scope has the hours already, and only the material is sold.
    """

    label: str
    unit: str
    material: str
    task: str = ""
    driver: str = ""


KINDS: Mapping[str, AllowanceKind] = {
    "bags": AllowanceKind(
        label="Low spots filled with leveler",
        unit="bag",
        material="leveller",
        task="level",
        driver="leveller",
    ),
    "primer": AllowanceKind(
        label="Low spots primed", unit="ft2", material="primer", task="level", driver="primer"
    ),
    "screws": AllowanceKind(
        label="Screws in loose spots",
        unit="each",
        material="subfloor_screws",
        task="prep",
        driver="subfloor_screws",
    ),
    "base": AllowanceKind(label="Old base that breaks, replaced", unit="ft", material="base_stock"),
}
"""What is offered from evidence; an allowance beside these is described by whoever adds it."""

FREE = "free"
"""The kind of an allowance that stands in no list."""


@dataclass(frozen=True, kw_only=True, slots=True)
class CostOfOne:
    """What one unit costs: material, the tax on it, hours at the burdened rate.

    `lacking`: whether the material has no price; `bought_by_client`: whether the client buys it.
    """

    material: Decimal
    tax: Decimal
    hours: Decimal
    rate: Decimal
    taxable: bool = False
    lacking: bool = False
    bought_by_client: bool = False

    @property
    def labor(self) -> Decimal:
        """The hours at the burdened rate, not rounded."""
        return self.hours * self.rate

    @property
    def total(self) -> Decimal:
        """Everything together, to four places."""
        return to_unit_cost(self.material + self.tax + self.labor)


def unit_cost(
    kind: str, book: PriceBook, terms: PricingTerms, rates: Sequence[ProductionRate]
) -> CostOfOne:
    """Return what one unit of a kind costs by the prices and the production rates in force."""
    of_kind = KINDS[kind]
    rate = find_rate(rates, of_kind.task, of_kind.driver, "") if of_kind.task else None
    hours = rate.hours / rate.per if rate and of_kind.task not in terms.left_out else ZERO
    price = book.find("material", of_kind.material, "", terms.as_of)
    buys = terms.buys(of_kind.material)
    material = ZERO if price is None or buys else _by_unit(kind, price.amount)
    taxed = price is not None and price.taxable
    tax = material * terms.tax_rate if taxed and terms.tax_mode == "consumer" else ZERO
    return CostOfOne(
        material=material,
        tax=tax,
        hours=hours,
        rate=book.burdened_rate,
        taxable=taxed and not buys,
        lacking=price is None and not buys,
        bought_by_client=buys,
    )


def _by_unit(kind: str, amount: Decimal) -> Decimal:
    """Return what a unit takes of a material: base by the foot, with what cuts lose."""
    if kind != "base":
        return amount
    by_foot = price_of_measure(amount, RULES.base_stick_in / 12)
    return by_foot * (ONE + RULES.trim_allowance)


def unit_price(cost: Decimal, terms: PricingTerms) -> Decimal:
    """Return what a unit is sold for that costs so much: with overhead, at the margin, in cents."""
    return price_at_margin(cost * (ONE + terms.overhead), terms.margin)


def card_price(kind: str, book: PriceBook, terms: PricingTerms) -> Decimal | None:
    """Return what the rate card charges for a unit, where the job is priced by it and it does.

    A bag alone: what the card says for a foot of base pays for taking off and putting on too.
    """
    if kind != "bags" or terms.method != "rates":
        return None
    price = book.find("adder", KINDS[kind].material, "", terms.as_of)
    return None if price is None else cents(price.amount)


@dataclass(frozen=True, kw_only=True, slots=True)
class LowSpots:
    """What depth surveys say of a job: bags between `least` and `most`, and what is counted.

    Bags are rounded up once, for all surveyed rooms together: an opened bag goes on in the next.
    `counted` are bags that the scope has in these rooms; `low_ft2` is what would be primed.
    """

    least: int
    most: int
    counted: int
    low_ft2: Decimal

    @property
    def beyond(self) -> tuple[int, int]:
        """The bags between least and most that the scope doesn't count."""
        return max(0, self.least - self.counted), max(0, self.most - self.counted)


def low_spots(surveys: Sequence[Survey], bag_fills_ft3: Decimal, counted: int) -> LowSpots:
    """Return what the surveys of several rooms come to."""
    ends = [sum(survey.fill_ft3[end] for survey in surveys) for end in (0, 1)]
    least, most = (up(Decimal(repr(end)) / bag_fills_ft3) for end in ends)
    low = sum((Decimal(repr(survey.low_ft2)) for survey in surveys), ZERO)
    return LowSpots(least=least, most=most, counted=counted, low_ft2=low)
