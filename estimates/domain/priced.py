"""A priced scope as plain values: its lines, what is short or lacks a price, and the sums."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from estimates.domain.money import markup_of
from estimates.domain.price_book import Method, TaxMode
from estimates.domain.terms.basis import PriceBasis
from estimates.domain.terms.payer import PayerTerms
from estimates.domain.terms.payment import held_back
from jobs.domain.checks import ZERO, BadValueError
from jobs.domain.documents import stored

LineKind = Literal[
    "material", "labour", "adder", "allowance", "added", "minimum", "discount", "rounding"
]
"""As the books have it; labor keeps the spelling that it was first stored with."""

LABOR: LineKind = "labour"


@stored(
    "code label kind quantity unit cost amount basis",
    "unit_cost unit_price taxable zone room item",
)
@dataclass(frozen=True, kw_only=True, slots=True)
class PricedLine:
    """One line: what it costs us and what is charged for it, both in whole cents.

    `unit_price` stands only where the line is charged by the unit; elsewhere `amount` is its share
    of a price that was made as a whole.
    """

    code: str
    label: str
    kind: LineKind
    quantity: Decimal
    unit: str
    cost: Decimal
    amount: Decimal
    basis: str
    unit_cost: Decimal = ZERO
    unit_price: Decimal | None = None
    taxable: bool = False
    zone: str = ""
    room: str = ""
    item: str = ""

    @property
    def is_by_client(self) -> bool:
        """Whether it is work that the client does: labor at no cost of an hour."""
        return self.kind == LABOR and not self.unit_cost


@stored("code label charge cost")
@dataclass(frozen=True, kw_only=True, slots=True)
class RateCheck:
    """An adder held against the cost, overhead included, of the work and material it pays for."""

    code: str
    label: str
    charge: Decimal
    cost: Decimal


@stored("code text")
@dataclass(frozen=True, kw_only=True, slots=True)
class PriceFault:
    """Something that has no price: what it is and what is missing, in words."""

    code: str
    text: str


@stored(
    "scope_sha256 currency method as_of lines material_cost use_tax",
    "allowance_cost direct_cost overhead cost subtotal profit margin tax_mode tax total",
    "hours crew_days contribution contribution_per_crew_day rate_checks faults",
    "added_cost days_on_site contribution_per_day basis payer",
    labor_cost="labour_cost",
)
@dataclass(frozen=True, kw_only=True, slots=True)
class Priced:
    """A scope with its money. Amounts of `lines` sum to `subtotal`; `total` is that with `tax`.

    `contribution` is what the price leaves for overhead and profit: subtotal less direct cost
    (material, tax on it, labor, allowances, added lines). `margin` is a part of the price, four
    decimals. `days_on_site` are whole and half days as a crew is booked; None where nobody knows
    them. `basis`: what the price was made with; None in an estimate that didn't keep it yet.
    `payer`: who pays; None: the client.
    """

    scope_sha256: str
    currency: str
    method: Method
    as_of: str
    lines: tuple[PricedLine, ...]
    material_cost: Decimal
    use_tax: Decimal
    labor_cost: Decimal
    allowance_cost: Decimal
    direct_cost: Decimal
    overhead: Decimal
    cost: Decimal
    subtotal: Decimal
    profit: Decimal
    margin: Decimal | None
    tax_mode: TaxMode
    tax: Decimal
    total: Decimal
    hours: Decimal
    crew_days: Decimal
    contribution: Decimal
    contribution_per_crew_day: Decimal | None
    rate_checks: tuple[RateCheck, ...]
    faults: tuple[PriceFault, ...]
    added_cost: Decimal = ZERO
    days_on_site: Decimal | None = None
    contribution_per_day: Decimal | None = None
    basis: PriceBasis | None = None
    payer: PayerTerms | None = None

    @property
    def markup(self) -> Decimal | None:
        """Profit as a part of the cost, four decimals; None at no cost."""
        return markup_of(self.subtotal, self.cost)

    @property
    def held_back(self) -> Decimal:
        """What the payer holds back of the total as retainage; nothing where the client pays."""
        return held_back(self.payer, self.total) if self.payer else ZERO

    @property
    def allowance_lines(self) -> tuple[PricedLine, ...]:
        """The lines of work that nobody could count, each charged up to its cap."""
        return tuple(line for line in self.lines if line.kind == "allowance")


def amounts_of(lines: Iterable[PricedLine], *kinds: LineKind) -> Decimal:
    """Return what is charged for the lines of these kinds, or of all kinds if none is named."""
    return sum((line.amount for line in lines if not kinds or line.kind in kinds), ZERO)


def costs_of(lines: Iterable[PricedLine], *kinds: LineKind) -> Decimal:
    """Return what the lines of these kinds cost, or of all kinds if none is named."""
    return sum((line.cost for line in lines if not kinds or line.kind in kinds), ZERO)


def unpriced(*scopes: Priced) -> tuple[str, ...]:
    """Return in words what has no price in any of these priced scopes, once each."""
    return tuple(dict.fromkeys(fault.text for priced in scopes for fault in priced.faults))


def refuse_unpriced(*scopes: Priced) -> None:
    """Raise BadValueError that names what has no price in any of these, if anything has none."""
    lacking = "; ".join(unpriced(*scopes))
    if lacking:
        raise BadValueError(field="prices", value=lacking, accepted="a price for each")
