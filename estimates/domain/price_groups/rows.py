"""What a group of a price shows when it is open: materials, tasks with their parts, plain lines."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimates.domain.price_groups.kinds import DISPOSAL
from estimates.domain.price_groups.parts import CountedPlace, HoursPart, Links, parts_of, places_of
from estimates.domain.priced import PricedLine, amounts_of, costs_of
from estimates.domain.terms.basis import PriceUsed, RateUsed
from jobs.domain.checks import ZERO
from jobs.domain.quantities import Quantity


@dataclass(frozen=True, kw_only=True, slots=True)
class PricedMaterial:
    """A material, all its rooms together: how much, what one costs, what is charged.

    `price` is the price of the book that it took; None where the client buys it, or where an
    estimate kept no prices.
    """

    code: str
    item: str
    label: str
    quantity: Decimal
    unit: str
    unit_cost: Decimal
    cost: Decimal
    amount: Decimal
    basis: tuple[str, ...]
    places: tuple[CountedPlace, ...]
    price: PriceUsed | None

    @property
    def since(self) -> date | None:
        """The day from which its price is in force."""
        return None if self.price is None else date.fromisoformat(self.price.effective)

    @property
    def seen(self) -> date | None:
        """The day on which its price was last looked up."""
        return None if self.price is None else date.fromisoformat(self.price.seen)


@dataclass(frozen=True, kw_only=True, slots=True)
class PricedTask:
    """A task on one floor, or of the whole job; `by_client`: it costs and counts no hours."""

    code: str
    label: str
    zone: str
    hours: Decimal
    cost: Decimal
    amount: Decimal
    basis: str
    by_client: bool
    parts: tuple[HoursPart, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class PlainRow:
    """Any other line: charged by the unit, or as a `whole`, which no quantity makes up."""

    label: str
    quantity: Decimal
    unit: str
    unit_price: Decimal | None
    cost: Decimal
    amount: Decimal
    basis: str
    whole: bool


def material_rows(
    lines: Sequence[PricedLine], prices: Iterable[PriceUsed], links: Links
) -> tuple[PricedMaterial, ...]:
    """Return a row for each thing, rooms together; what is carted away stays by its place."""
    known = {(price.code, price.item): price for price in prices if price.kind == "material"}
    alike: dict[tuple[str, ...], list[PricedLine]] = {}
    for line in lines:
        place = (line.zone, line.room) if line.code == DISPOSAL else ()
        alike.setdefault((line.code, line.item, *place), []).append(line)
    return tuple(_material(each, known, links) for each in alike.values())


def _material(
    lines: Sequence[PricedLine], known: dict[tuple[str, str], PriceUsed], links: Links
) -> PricedMaterial:
    first = lines[0]
    price = known.get((first.code, first.item)) or known.get((first.code, ""))
    return PricedMaterial(
        code=first.code,
        item=first.item,
        label=_named(first),
        quantity=sum((line.quantity for line in lines), ZERO),
        unit=first.unit,
        unit_cost=first.unit_cost,
        cost=costs_of(lines),
        amount=amounts_of(lines),
        basis=tuple(dict.fromkeys(line.basis for line in lines)),
        places=places_of([(line.zone, line.room, line.quantity) for line in lines], links),
        price=price,
    )


def task_row(
    line: PricedLine,
    quantities: Sequence[Quantity],
    rates: Sequence[RateUsed],
    links: Links,
) -> PricedTask:
    """Return the row of a line of labor, with what drives its hours."""
    by_client = not line.unit_cost
    parts = (
        () if by_client else parts_of(line.code, line.zone, line.quantity, quantities, rates, links)
    )
    return PricedTask(
        code=line.code,
        label=line.label,
        zone=line.zone,
        hours=ZERO if by_client else line.quantity,
        cost=line.cost,
        amount=line.amount,
        basis=line.basis,
        by_client=by_client,
        parts=parts,
    )


def plain_row(line: PricedLine) -> PlainRow:
    """Return the row of any other line."""
    return PlainRow(
        label=_named(line),
        quantity=line.quantity,
        unit=line.unit,
        unit_price=line.unit_price,
        cost=line.cost,
        amount=line.amount,
        basis=line.basis,
        whole=line.kind in ("minimum", "discount", "rounding"),
    )


def _named(line: PricedLine) -> str:
    """A line by what it is and which: a pad that is only called pad is said once."""
    return f"{line.label}, {line.item}" if line.item not in ("", line.label) else line.label
