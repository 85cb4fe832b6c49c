"""What one job's price adds to the company's terms: lines, a discount, rounding, tax. Values."""

from dataclasses import dataclass
from decimal import Decimal

from jobs.domain.checks import (
    ONE,
    ZERO,
    BadValueError,
    require_choice,
    require_number,
    require_text,
)
from jobs.domain.documents import stored
from jobs.domain.quantities import CATALOG

MOST_TAX_PERCENT = Decimal(30)
"""No state, county and city of the country come near it together; more is a slip of the hand."""

ROUNDINGS = (0, 5, 10)
"""What a price may be rounded to, in whole units of its currency; 0: it is not rounded."""


@stored("state county city")
@dataclass(frozen=True, kw_only=True, slots=True)
class TaxRates:
    """Sales tax by who levies it, as parts of one."""

    state: Decimal = ZERO
    county: Decimal = ZERO
    city: Decimal = ZERO

    @property
    def total(self) -> Decimal:
        """The rates added up."""
        return self.state + self.county + self.city


NO_TAX = TaxRates()


def require_tax(state: Decimal, county: Decimal, city: Decimal) -> None:
    """Refuse percentages of sales tax that are negative, or more than 30 together."""
    rates = {"state_percent": state, "county_percent": county, "city_percent": city}
    for field, percent in rates.items():
        require_number(field, percent, least=0, most=MOST_TAX_PERCENT)
    whole = sum(rates.values(), ZERO)
    if whole > MOST_TAX_PERCENT:
        accepted = f"up to {MOST_TAX_PERCENT} for state, county and city together"
        raise BadValueError(field="state_percent", value=f"{whole} together", accepted=accepted)


@dataclass(frozen=True, kw_only=True, slots=True)
class AddedLine:
    """A line that the scope does not count: so many units at a cost, at a price or at the margin.

    `unit_price` None: the price follows from cost, overhead and margin. `taxable`: it is material
    by the tax law, taxed as the job's material is.
    """

    label: str
    quantity: Decimal
    unit: str
    unit_cost: Decimal = ZERO
    unit_price: Decimal | None = None
    taxable: bool = False

    def __post_init__(self) -> None:
        """Refuse a line without a name, of nothing, or at a negative cost or price."""
        require_text("label", self.label)
        require_text("unit", self.unit)
        require_number("quantity", self.quantity, above=0)
        require_number("unit_cost", self.unit_cost, least=0)
        if self.unit_price is not None:
            require_number("unit_price", self.unit_price, least=0)


@dataclass(frozen=True, kw_only=True, slots=True)
class SuppliedItem:
    """A material, by code and item, that somebody else supplies; `by` is who, in words."""

    code: str
    item: str
    by: str

    def __post_init__(self) -> None:
        """Refuse what no catalog names, and a supplier without a name."""
        require_choice("supplied.code", self.code, CATALOG)
        require_text("supplied.by", self.by)


@stored("part amount reason")
@dataclass(frozen=True, kw_only=True, slots=True)
class Discount:
    """What is taken off a price: a part of it or an amount, and why."""

    reason: str
    part: Decimal = ZERO
    amount: Decimal = ZERO

    def __post_init__(self) -> None:
        """Refuse a discount without a reason, one of nothing, and one said in two ways."""
        require_text("discount.reason", self.reason)
        require_number("discount.part", self.part, least=0, most=ONE)
        require_number("discount.amount", self.amount, least=0)
        if bool(self.part) == bool(self.amount):
            accepted = "either a part of the price or an amount"
            raise BadValueError(field="discount", value="both or none", accepted=accepted)
