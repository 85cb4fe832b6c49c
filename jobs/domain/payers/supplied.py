"""Material that somebody else supplies, counted on receipt against what the scope needs.

A unit that came faulty is no use. A floor is laid from one lot: where another came, or several, it
is said. What never came is not held against anybody until something was counted.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.domain.checks import ZERO, BadValueError, require_number
from jobs.domain.quantities import CATALOG, in_units
from jobs.domain.scope.scope import FrozenScope

NEVER_SUPPLIED = ("disposal",)
"""Counted as material but no material: nobody supplies these."""


@dataclass(frozen=True, kw_only=True, slots=True)
class MaterialNeed:
    """So much of one thing that a job takes, all floors together."""

    code: str
    item: str
    amount: Decimal

    @property
    def label(self) -> str:
        """What it is: flooring of a product, base."""
        label = CATALOG[self.code].label
        return f"{label}, {self.item}" if self.item else label

    @property
    def unit(self) -> str:
        """The unit that it is counted in."""
        return CATALOG[self.code].unit

    @property
    def words(self) -> str:
        """How much of it: 13 cartons."""
        return in_units(self.amount, self.unit)


def material_needs(scope: FrozenScope) -> tuple[MaterialNeed, ...]:
    """Return what a scope takes of each material, in its order, all floors together."""
    amounts: dict[tuple[str, str], Decimal] = {}
    for entry in scope.quantities:
        if entry.kind == "material" and entry.amount and entry.code not in NEVER_SUPPLIED:
            key = (entry.code, entry.item)
            amounts[key] = amounts.get(key, ZERO) + entry.amount
    return tuple(
        MaterialNeed(code=code, item=item, amount=amount)
        for (code, item), amount in amounts.items()
    )


@dataclass(frozen=True, kw_only=True, slots=True)
class Delivery:
    """What came at once: so many counted, so many of them faulty, of which lot."""

    counted: Decimal
    faulty: Decimal = ZERO
    lot: str = ""


def require_delivery(code: str, counted: Decimal, faulty: Decimal) -> None:
    """Refuse a part of a whole thing, and more faulty than came."""
    entry = CATALOG[code]
    for field, number in (("counted", counted), ("faulty", faulty)):
        require_number(field, number, least=0)
        if entry.whole and number != number.to_integral_value():
            raise BadValueError(field=field, value=number, accepted=f"whole {entry.unit}s")
    if faulty > counted:
        accepted = f"up to {in_units(counted, entry.unit)}, what came"
        raise BadValueError(field="faulty", value=faulty, accepted=accepted)


@dataclass(frozen=True, kw_only=True, slots=True)
class SuppliedCount:
    """A material that somebody supplies, with all that came of it; `ordered` is the lot ordered."""

    need: MaterialNeed
    by: str
    ordered: str = ""
    deliveries: Sequence[Delivery] = ()

    @property
    def counted(self) -> Decimal:
        """All that came, faulty or not."""
        return sum((each.counted for each in self.deliveries), ZERO)

    @property
    def faulty(self) -> Decimal:
        """What came and is no use."""
        return sum((each.faulty for each in self.deliveries), ZERO)

    @property
    def short(self) -> Decimal:
        """What is missing of it; nothing while nothing was counted yet."""
        if not self.deliveries:
            return ZERO
        return max(ZERO, self.need.amount - self.counted + self.faulty)

    @property
    def lots(self) -> tuple[str, ...]:
        """The lots that came, each once, in order."""
        came = {each.lot.strip().casefold(): each.lot.strip() for each in reversed(self.deliveries)}
        return tuple(reversed([lot for lot in came.values() if lot]))

    @property
    def wrong_lots(self) -> tuple[str, ...]:
        """The lots that are not the one ordered; where none was ordered, all where several came."""
        ordered = self.ordered.strip().casefold()
        if ordered:
            return tuple(lot for lot in self.lots if lot.casefold() != ordered)
        return self.lots if len(self.lots) > 1 else ()

    @property
    def faults(self) -> tuple[str, ...]:
        """What is wrong, each in a sentence that says whose fault it is."""
        unit, said = self.need.unit, []
        if self.short:
            text = f"{self.need.label}: {in_units(self.short, unit)} short. "
            text += f"{self.need.words} needed, {in_units(self.counted, unit)} counted"
            text += f", {self.faulty.normalize():f} of them faulty" if self.faulty else ""
            said.append(f"{text}; supplied by {self.by}.")
        if self.wrong_lots and self.ordered.strip():
            other = ", ".join(self.wrong_lots)
            text = f"{self.need.label}: lot {other} came, lot {self.ordered.strip()} was ordered"
            said.append(f"{text}; supplied by {self.by}.")
        elif self.wrong_lots:
            text = f"{self.need.label}: lots {' and '.join(self.wrong_lots)} came, one is needed"
            said.append(f"{text}; supplied by {self.by}.")
        return tuple(said)


def all_faults(counts: Iterable[SuppliedCount]) -> tuple[str, ...]:
    """Return what is wrong with all that is supplied, in sentences."""
    return tuple(fault for count in counts for fault in count.faults)


def why_again(counts: Iterable[SuppliedCount]) -> str:
    """Return in few words why somebody drives out again; empty where nothing is wrong."""
    said = []
    for count in counts:
        if count.short:
            said.append(f"{in_units(count.short, count.need.unit)} short of {count.need.label}")
        elif count.wrong_lots:
            said.append(f"wrong lot of {count.need.label}")
    return "; ".join(said)
