"""What a job is priced with: the price book, the terms, and the priced result as plain values.

A *material* price is what we pay for a unit; an *adder* is what we charge for a unit, the way the
trade quotes: so much a square foot to lay, so much a casing. Prices are decimals of the company's
currency; shares (overhead, margin, tax) are parts of one. Nothing here rounds: see pricing.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal, get_args

from jobs.domain.checks import (
    ZERO,
    BadValueError,
    require_choice,
    require_number,
    require_text,
    require_unique,
)
from jobs.domain.documents import stored
from jobs.domain.quantities import CATALOG
from jobs.domain.tasks import TASKS

PriceKind = Literal["material", "adder"]
Method = Literal["cost", "rates"]
TaxMode = Literal["consumer", "seller", "none"]
TaxBasis = Literal["item", "invoice"]
LineKind = Literal["material", "labour", "adder", "allowance", "minimum"]


ADDER_COVERS: Mapping[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "floor_area": (("setup", "carry", "prep", "underlay", "lay", "clean"), ()),
    "tear_out": (("tear_out",), ()),
    "disposal": (("dispose",), ("disposal",)),
    "leveller": (("level",), ("leveller", "primer")),
    "base_on": (("base_off", "base"), ()),
    "shoe_on": (("shoe",), ()),
    "casings": (("undercut",), ()),
    "doors_off": (("doors_off", "doors_on"), ()),
    "doors_trimmed": (("doors_on",), ()),
    "transitions": (("transitions",), ()),
    "treads": (("stairs",), ()),
    "toilets": (("fixtures_off", "fixtures_on"), ()),
    "appliances": (("fixtures_off", "fixtures_on"), ()),
    "furniture": (("furniture",), ()),
    "paint_area": (("paint",), ()),
    "trips": (("travel",), ()),
}
"""What an adder of each code pays for unless its price says otherwise: tasks, materials."""


def require_day(field: str, value: str) -> None:
    """Refuse what is no calendar day written as year-month-day."""
    try:
        written = date.fromisoformat(value).isoformat()
    except ValueError:
        written = ""
    if written != value:
        raise BadValueError(field=field, value=value, accepted="a day such as 2026-03-02")


@dataclass(frozen=True, kw_only=True, slots=True)
class Price:
    """A price for one unit of a quantity, from a day on; `item` narrows it to one product.

    An adder says which tasks and which materials it pays for, so that it can be held against their
    cost. Materials are taxable or not; an adder is taxable where it sells material.
    """

    code: str
    label: str
    unit: str
    amount: Decimal
    kind: PriceKind
    effective: str
    taxable: bool
    item: str = ""
    covers_tasks: tuple[str, ...] | None = None
    covers_materials: tuple[str, ...] | None = None

    def __post_init__(self) -> None:
        """Refuse an unknown code, another unit than the catalog's, a negative price."""
        require_choice("price.code", self.code, CATALOG)
        where = f"price {self.code}"
        require_text(f"{where}.label", self.label)
        require_choice(f"{where}.kind", self.kind, get_args(PriceKind))
        require_choice(f"{where}.unit", self.unit, [CATALOG[self.code].unit])
        require_number(f"{where}.amount", self.amount, least=0)
        require_day(f"{where}.effective", self.effective)
        for task in self.tasks_paid:
            require_choice(f"{where}.covers_tasks", task, TASKS)
        materials = [code for code, entry in CATALOG.items() if entry.kind == "material"]
        for material in self.materials_paid:
            require_choice(f"{where}.covers_materials", material, materials)
        if self.kind == "material":
            require_choice(f"{where}.code", self.code, materials)

    @property
    def tasks_paid(self) -> tuple[str, ...]:
        """The tasks an adder pays for: its own word, else the usual; none for a material."""
        if self.kind == "material":
            return ()
        usual = ADDER_COVERS.get(self.code, ((), ()))[0]
        return usual if self.covers_tasks is None else self.covers_tasks

    @property
    def materials_paid(self) -> tuple[str, ...]:
        """The materials an adder pays for: its own word, else the usual; none for a material."""
        if self.kind == "material":
            return ()
        usual = ADDER_COVERS.get(self.code, ((), ()))[1]
        return usual if self.covers_materials is None else self.covers_materials


@dataclass(frozen=True, kw_only=True, slots=True)
class PriceBook:
    """All prices of a company, old ones too, and what an hour of its crew costs with burden."""

    prices: tuple[Price, ...]
    burdened_rate: Decimal
    currency: str = "USD"

    def __post_init__(self) -> None:
        """Refuse a burdened rate of nought and two prices for one thing from the same day."""
        require_number("book.burdened_rate", self.burdened_rate, above=0)
        require_text("book.currency", self.currency)
        keys = [f"{p.kind} {p.code} {p.item} from {p.effective}" for p in self.prices]
        require_unique("book.prices", keys)

    def find(self, kind: PriceKind, code: str, item: str, as_of: str) -> Price | None:
        """Return the price in force on a day: for this very item, else for any; None if none."""
        in_force = [
            price
            for price in self.prices
            if (price.kind, price.code) == (kind, code) and price.effective <= as_of
        ]
        for wanted in dict.fromkeys((item, "")):
            own = [price for price in in_force if price.item == wanted]
            if own:
                return max(own, key=lambda price: price.effective)
        return None


@dataclass(frozen=True, kw_only=True, slots=True)
class Allowance:
    """Work nobody can count yet, sold by the unit up to `units`; more needs a change order."""

    code: str
    label: str
    unit: str
    units: Decimal
    unit_price: Decimal
    unit_cost: Decimal
    taxable: bool = False

    def __post_init__(self) -> None:
        """Refuse an allowance without a name, without units, or at a negative price."""
        require_text("allowance.code", self.code)
        where = f"allowance {self.code}"
        require_text(f"{where}.label", self.label)
        require_text(f"{where}.unit", self.unit)
        require_number(f"{where}.units", self.units, above=0)
        require_number(f"{where}.unit_price", self.unit_price, least=0)
        require_number(f"{where}.unit_cost", self.unit_cost, least=0)


@dataclass(frozen=True, kw_only=True, slots=True)
class Terms:
    """How a price is made.

    `method` "cost" builds the price from cost, overhead and margin; "rates" charges the adders and
    holds them against cost. `tax_mode` "consumer": the installer pays tax on what is bought, so it
    is a cost; "seller": tax is added to the materials sold. `supplied` are material codes that the
    client buys, `left_out` task codes that the client does: both stand in the scope at no price.
    """

    as_of: str
    method: Method = "cost"
    overhead: Decimal = ZERO
    margin: Decimal = ZERO
    minimum: Decimal = ZERO
    tax_mode: TaxMode = "none"
    tax_rate: Decimal = ZERO
    tax_basis: TaxBasis = "invoice"
    crew_hours_per_day: Decimal = Decimal(16)
    allowances: tuple[Allowance, ...] = ()
    supplied: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        """Refuse shares out of bounds: a margin of all the price, a tax of more than the price."""
        require_day("terms.as_of", self.as_of)
        require_choice("terms.method", self.method, get_args(Method))
        require_choice("terms.tax_mode", self.tax_mode, get_args(TaxMode))
        require_choice("terms.tax_basis", self.tax_basis, get_args(TaxBasis))
        require_number("terms.overhead", self.overhead, least=0, most=5)
        require_number("terms.margin", self.margin, least=0, below=1)
        require_number("terms.minimum", self.minimum, least=0)
        require_number("terms.tax_rate", self.tax_rate, least=0, below=1)
        require_number("terms.crew_hours_per_day", self.crew_hours_per_day, above=0)
        require_unique("terms.allowances", [entry.code for entry in self.allowances])
        for material in self.supplied:
            require_choice("terms.supplied", material, CATALOG)
        for task in self.left_out:
            require_choice("terms.left_out", task, TASKS)


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


@stored("code label charge cost")
@dataclass(frozen=True, kw_only=True, slots=True)
class RateCheck:
    """An adder held against the cost, overhead included, of the work and material it pays for."""

    code: str
    label: str
    charge: Decimal
    cost: Decimal

    @property
    def short(self) -> bool:
        """True where the cost exceeds what the rate brings."""
        return self.charge < self.cost


@stored("code text")
@dataclass(frozen=True, kw_only=True, slots=True)
class PriceFault:
    """Something that has no price: what it is and what is missing, in words."""

    code: str
    text: str


@stored(
    "scope_sha256 currency method as_of lines material_cost use_tax labour_cost",
    "allowance_cost direct_cost overhead cost subtotal profit margin tax_mode tax total",
    "hours crew_days contribution contribution_per_crew_day rate_checks faults",
)
@dataclass(frozen=True, kw_only=True, slots=True)
class Priced:
    """A scope with its money. Amounts of `lines` sum to `subtotal`; `total` is that with `tax`.

    `contribution` is what the price leaves for overhead and profit: subtotal less direct cost
    (material, tax on it, labour, allowances). `margin` is a part of the price, four decimals.
    """

    scope_sha256: str
    currency: str
    method: Method
    as_of: str
    lines: tuple[PricedLine, ...]
    material_cost: Decimal
    use_tax: Decimal
    labour_cost: Decimal
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

    @property
    def complete(self) -> bool:
        """True where everything in the scope has a price: only then may a quote be issued."""
        return not self.faults

    @property
    def short_rates(self) -> tuple[RateCheck, ...]:
        """The adders that don't bring what their work costs."""
        return tuple(check for check in self.rate_checks if check.short)


def amounts_of(lines: Iterable[PricedLine], *kinds: LineKind) -> Decimal:
    """Return what is charged for the lines of these kinds, or of all kinds if none is named."""
    return sum((line.amount for line in lines if not kinds or line.kind in kinds), ZERO)


def costs_of(lines: Iterable[PricedLine], *kinds: LineKind) -> Decimal:
    """Return what the lines of these kinds cost, or of all kinds if none is named."""
    return sum((line.cost for line in lines if not kinds or line.kind in kinds), ZERO)


OTHER = "other"
