"""What a job is priced with: the price book and the terms of a price.

A *material* price is what we pay for a unit; an *adder* is what we charge for a unit, the way the
trade quotes: so much a square foot to lay, so much a casing. Prices are decimals of the company's
currency; shares (overhead, margin, tax) are parts of one. Nothing here rounds: see money.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal, NamedTuple, get_args

from estimates.domain.terms.job_terms import (
    NO_TAX,
    ROUNDINGS,
    AddedLine,
    Discount,
    SuppliedItem,
    TaxRates,
)
from estimates.domain.terms.payer import PayerTerms
from jobs.domain.checks import (
    ZERO,
    BadValueError,
    require_choice,
    require_number,
    require_text,
    require_unique,
)
from jobs.domain.payers.supplied import NEVER_SUPPLIED
from jobs.domain.quantities import CATALOG, Entry
from jobs.domain.tasks import TASKS

PriceKind = Literal["material", "adder"]
Method = Literal["cost", "rates"]
TaxMode = Literal["consumer", "seller", "all", "exempt", "none"]
TaxBasis = Literal["item", "invoice"]

NEVER_CLIENTS = NEVER_SUPPLIED
"""Counted as material but no material: the client who buys all material doesn't buy these."""

OTHER = "other"
"""The code of what is bought and stands in no catalog."""

HALF_DAY = "half_day"
"""The code of the least that a rate card charges for coming out; no plan counts it."""

SOLD: Mapping[str, Entry] = {
    **CATALOG,
    HALF_DAY: Entry(label="Half-day minimum", unit="job", kind="work"),
}
"""All that a price can be for: what a floor takes, and the half day."""


class Covers(NamedTuple):
    """What an adder pays for: codes of tasks, and of materials."""

    tasks: tuple[str, ...] = ()
    materials: tuple[str, ...] = ()


NOTHING = Covers()
_COVERS: Mapping[str, Covers] = {
    "floor_area": Covers(("pick_up", "load", "setup", "carry", "prep", "underlay", "lay", "clean")),
    "tear_out": Covers(("tear_out",)),
    "disposal": Covers(("dispose", "dump_run"), ("disposal",)),
    "leveller": Covers(("level",), ("leveller", "primer")),
    "base_on": Covers(("base_off", "base")),
    "shoe_on": Covers(("shoe",)),
    "casings": Covers(("undercut",)),
    "doors_off": Covers(("doors_off", "doors_on")),
    "doors_trimmed": Covers(("doors_on",)),
    "transitions": Covers(("transitions",)),
    "treads": Covers(("stairs",)),
    "toilets": Covers(("fixtures_off", "fixtures_on")),
    "appliances": Covers(("fixtures_off", "fixtures_on")),
    "furniture": Covers(("furniture",)),
    "paint_area": Covers(("paint",)),
    "trips": Covers(("travel",)),
}
USUAL_COVERS: Mapping[str, Covers] = {
    code: covers._replace(tasks=tuple(task for task in covers.tasks if task in TASKS))
    for code, covers in _COVERS.items()
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
    cost. Materials are taxable or not; an adder is taxable where it sells material. `seen` is the
    day on which it was last looked up; empty: the day from which it is in force.
    """

    code: str
    label: str
    unit: str
    amount: Decimal
    kind: PriceKind
    effective: str
    taxable: bool
    item: str = ""
    seen: str = ""
    covers_tasks: tuple[str, ...] | None = None
    covers_materials: tuple[str, ...] | None = None

    def __post_init__(self) -> None:
        """Refuse an unknown code, another unit than the catalog's, a negative price."""
        require_choice("price.code", self.code, SOLD)
        where = f"price {self.code}"
        require_text(f"{where}.label", self.label)
        require_choice(f"{where}.kind", self.kind, get_args(PriceKind))
        require_choice(f"{where}.unit", self.unit, [SOLD[self.code].unit])
        require_number(f"{where}.amount", self.amount, least=0)
        require_day(f"{where}.effective", self.effective)
        if self.seen:
            require_day(f"{where}.seen", self.seen)
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
        return self._paid(self.covers_tasks, USUAL_COVERS.get(self.code, NOTHING).tasks)

    @property
    def materials_paid(self) -> tuple[str, ...]:
        """The materials an adder pays for: its own word, else the usual; none for a material."""
        return self._paid(self.covers_materials, USUAL_COVERS.get(self.code, NOTHING).materials)

    def _paid(self, stated: tuple[str, ...] | None, usual: tuple[str, ...]) -> tuple[str, ...]:
        if self.kind == "material":
            return ()
        return usual if stated is None else stated


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
            matching = [price for price in in_force if price.item == wanted]
            if matching:
                return max(matching, key=lambda price: price.effective)
        return None


@dataclass(frozen=True, kw_only=True, slots=True)
class Allowance:
    """Work nobody can count yet, sold by the unit up to `units`; more needs a change order.

    `evidence` says on what the cap stands.
    """

    code: str
    label: str
    unit: str
    units: Decimal
    unit_price: Decimal
    unit_cost: Decimal
    taxable: bool = False
    evidence: str = ""

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
class PricingTerms:
    """How a price is made.

    `method` "cost" builds the price from cost, overhead and margin; "rates" charges the adders and
    holds them against cost. `tax_mode` "consumer": the installer pays tax on what is bought, so it
    is a cost; "seller": tax is added to the materials sold; "all": to all that is sold; "exempt":
    there is none, for the reason that `certificate` names. `labor_taxed` adds labor to what is
    taxed on the bill. `supplied` are material codes that the client buys, `left_out` task codes
    that the client does: both stand in the scope at no price; `labor_only`: the client buys all
    material. `added`, `discount` and `round_to` are of this job alone. `barred` says in words what
    was to be left to the client and may not be. `payer` is who pays where it isn't the client;
    `supplied_items` are materials that client or payer supply, each of one item alone.
    """

    as_of: str
    method: Method = "cost"
    overhead: Decimal = ZERO
    margin: Decimal = ZERO
    minimum: Decimal = ZERO
    tax_mode: TaxMode = "none"
    tax_rates: TaxRates = NO_TAX
    tax_basis: TaxBasis = "invoice"
    labor_taxed: bool = False
    certificate: str = ""
    crew_hours_per_day: Decimal = Decimal(16)
    allowances: tuple[Allowance, ...] = ()
    supplied: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()
    labor_only: bool = False
    added: tuple[AddedLine, ...] = ()
    discount: Discount | None = None
    round_to: int = 0
    barred: tuple[str, ...] = ()
    payer: PayerTerms | None = None
    supplied_items: tuple[SuppliedItem, ...] = ()

    def __post_init__(self) -> None:
        """Refuse shares out of bounds: a margin of all the price, a tax of more than the price."""
        require_day("terms.as_of", self.as_of)
        require_choice("terms.method", self.method, get_args(Method))
        require_choice("terms.tax_mode", self.tax_mode, get_args(TaxMode))
        require_choice("terms.tax_basis", self.tax_basis, get_args(TaxBasis))
        require_number("terms.overhead", self.overhead, least=0, most=5)
        require_number("terms.margin", self.margin, least=0, below=1)
        require_number("terms.minimum", self.minimum, least=0)
        for rate in (self.tax_rates.state, self.tax_rates.county, self.tax_rates.city):
            require_number("terms.tax_rate", rate, least=0)
        require_number("terms.tax_rate", self.tax_rate, least=0, below=1)
        require_choice("terms.round_to", str(self.round_to), [str(step) for step in ROUNDINGS])
        require_number("terms.crew_hours_per_day", self.crew_hours_per_day, above=0)
        require_unique("terms.allowances", [entry.code for entry in self.allowances])
        for material in self.supplied:
            require_choice("terms.supplied", material, CATALOG)
        for task in self.left_out:
            require_choice("terms.left_out", task, TASKS)

    @property
    def tax_rate(self) -> Decimal:
        """Sales tax as a part of one: state, county and city together."""
        return self.tax_rates.total

    @property
    def not_ours(self) -> tuple[str, ...]:
        """Codes of tasks that the client does; who buys all the material brings it, too."""
        brought = ("pick_up",) if self.labor_only else ()
        return tuple(dict.fromkeys((*self.left_out, *brought)))

    def buys(self, code: str, item: str = "") -> bool:
        """Whether the client buys this material, or somebody supplies it."""
        if code in self.supplied or self.supplier(code, item):
            return True
        return self.labor_only and code not in NEVER_CLIENTS

    def supplier(self, code: str, item: str) -> str:
        """Return in words who supplies a material, as it was said; empty where nobody does."""
        return next(
            (each.by for each in self.supplied_items if (each.code, each.item) == (code, item)), ""
        )
