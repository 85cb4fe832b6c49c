"""The groups of a price: material by kind, labor by what the crew is at, and what stands beside."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from estimates.domain.money import cents
from estimates.domain.price_groups.kinds import (
    BESIDE_GROUPS,
    MATERIAL_GROUPS,
    WORK_GROUPS,
    GroupKind,
    material_group,
    work_group,
)
from estimates.domain.price_groups.parts import Links
from estimates.domain.price_groups.rows import (
    PlainRow,
    PricedMaterial,
    PricedTask,
    material_rows,
    plain_row,
    task_row,
)
from estimates.domain.priced import LABOR, LineKind, Priced, PricedLine, amounts_of, costs_of
from estimates.domain.terms.basis import RateUsed
from jobs.domain.checks import ZERO
from jobs.domain.quantities import Quantity

_BESIDE: Mapping[LineKind, str] = {
    "adder": "card",
    "allowance": "allowances",
    "added": "added",
    "minimum": "adjusted",
    "discount": "adjusted",
    "rounding": "adjusted",
}


@dataclass(frozen=True, kw_only=True, slots=True)
class PriceGroup:
    """Lines of a price that belong together, with what they cost and what is charged for them.

    Of the three kinds of rows it has one. `hours` None: there are none in this kind of group.
    `per_ft2` is what is charged by the square foot laid; None where nobody kept how many.
    """

    key: str
    title: str
    note: str
    cost: Decimal
    amount: Decimal
    per_ft2: Decimal | None
    hours: Decimal | None = None
    materials: tuple[PricedMaterial, ...] = ()
    tasks: tuple[PricedTask, ...] = ()
    lines: tuple[PlainRow, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class RowPlace:
    """Where a row stands in a price: its group, which row of it, which part of the row."""

    group: str
    row: int
    part: int = 0


@dataclass(frozen=True, kw_only=True, slots=True)
class PriceTable:
    """All groups of a price; together they have every line of it once."""

    materials: tuple[PriceGroup, ...]
    labor: tuple[PriceGroup, ...]
    beside: tuple[PriceGroup, ...]

    @property
    def groups(self) -> tuple[PriceGroup, ...]:
        """Every group, in the order of the page."""
        return (*self.materials, *self.labor, *self.beside)

    def place_of_price(self, code: str, item: str) -> RowPlace | None:
        """Return the first row that takes this price of the book; None where none does."""
        return next(
            (
                RowPlace(group=group.key, row=number)
                for group in self.materials
                for number, row in enumerate(group.materials)
                if row.price is not None and (row.price.code, row.price.item) == (code, item)
            ),
            None,
        )

    def place_of_rate(self, task: str, driver: str, item: str) -> RowPlace | None:
        """Return the first part whose hours hang on this rate; None where none does."""
        return next(
            (
                RowPlace(group=group.key, row=number, part=place)
                for group in self.labor
                for number, row in enumerate(group.tasks)
                for place, part in enumerate(row.parts)
                if part.rate is not None
                and (part.rate.task, part.rate.driver, part.rate.item) == (task, driver, item)
            ),
            None,
        )

    @property
    def by_practice(self) -> bool:
        """Whether any figure is common practice without a source."""
        return any(
            part.by_practice for group in self.labor for row in group.tasks for part in row.parts
        )


@dataclass(frozen=True, kw_only=True, slots=True)
class Counted:
    """What a price was reckoned from: quantities, rates, feet laid, and pages that show them."""

    quantities: tuple[Quantity, ...] = ()
    rates: tuple[RateUsed, ...] = ()
    area_ft2: Decimal | None = None
    links: Links | None = None


def price_table(priced: Priced, counted: Counted) -> PriceTable:
    """Return the groups of a price; groups without a line are left out."""
    links = counted.links or {}
    prices = () if priced.basis is None else priced.basis.prices
    of_material = _grouped(
        (line for line in priced.lines if line.kind == "material"),
        MATERIAL_GROUPS,
        lambda line: material_group(line.code),
    )
    of_labor = _grouped(
        (line for line in priced.lines if line.kind == LABOR),
        WORK_GROUPS,
        lambda line: work_group(line.code),
    )
    of_rest = _grouped(
        (line for line in priced.lines if line.kind in _BESIDE),
        BESIDE_GROUPS,
        lambda line: _BESIDE[line.kind],
    )
    return PriceTable(
        materials=tuple(
            _material_group(kind, lines, material_rows(lines, prices, links), counted.area_ft2)
            for kind, lines in of_material
        ),
        labor=tuple(
            _work_group(
                kind,
                lines,
                tuple(task_row(line, counted.quantities, counted.rates, links) for line in lines),
                counted.area_ft2,
            )
            for kind, lines in of_labor
        ),
        beside=tuple(_beside_group(kind, lines, counted.area_ft2) for kind, lines in of_rest),
    )


def _grouped(
    lines: Iterable[PricedLine],
    kinds: Sequence[GroupKind],
    key_of: Callable[[PricedLine], str],
) -> list[tuple[GroupKind, list[PricedLine]]]:
    by_key: dict[str, list[PricedLine]] = {kind.key: [] for kind in kinds}
    for line in lines:
        by_key[key_of(line)].append(line)
    return [(kind, by_key[kind.key]) for kind in kinds if by_key[kind.key]]


def _material_group(
    kind: GroupKind,
    lines: Sequence[PricedLine],
    rows: tuple[PricedMaterial, ...],
    area: Decimal | None,
) -> PriceGroup:
    return PriceGroup(
        key=kind.key,
        title=kind.title,
        note=_note(row.label for row in rows),
        cost=costs_of(lines),
        amount=amounts_of(lines),
        per_ft2=by_foot(amounts_of(lines), area),
        materials=rows,
    )


def _work_group(
    kind: GroupKind, lines: Sequence[PricedLine], rows: tuple[PricedTask, ...], area: Decimal | None
) -> PriceGroup:
    return PriceGroup(
        key=kind.key,
        title=kind.title,
        note=_note(row.label for row in rows),
        cost=costs_of(lines),
        amount=amounts_of(lines),
        per_ft2=by_foot(amounts_of(lines), area),
        hours=sum((row.hours for row in rows), ZERO),
        tasks=rows,
    )


def _beside_group(kind: GroupKind, lines: Sequence[PricedLine], area: Decimal | None) -> PriceGroup:
    return PriceGroup(
        key=kind.key,
        title=kind.title,
        note=_note(line.label for line in lines),
        cost=costs_of(lines),
        amount=amounts_of(lines),
        per_ft2=by_foot(amounts_of(lines), area),
        lines=tuple(plain_row(line) for line in lines),
    )


def _note(labels: Iterable[str]) -> str:
    """What a closed group says of itself: its rows by name, each once."""
    return ", ".join(dict.fromkeys(labels))


def by_foot(amount: Decimal, area_ft2: Decimal | None) -> Decimal | None:
    """Return an amount by the square foot laid, in cents; None where nothing is laid."""
    return cents(amount / area_ft2) if area_ft2 else None
