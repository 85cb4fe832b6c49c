"""What a change comes to, line by line: how much of everything before and after, and its amount.

Both prices are made of the same prices and rates, so a line differs where its quantity does. What
the sharing of cents moves elsewhere is gathered in one line, so that the lines sum to the whole.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from estimates.domain.money import CENT, cents
from estimates.domain.priced import Priced, PricedLine
from jobs.domain.checks import ZERO
from jobs.domain.documents import stored
from jobs.domain.scope.scope import FrozenScope

ROUNDING = "Cents that the rest moves by"

LineKey = tuple[str, str, str, str, str]


@stored("place label unit before after amount_before amount_after beside")
@dataclass(frozen=True, kw_only=True, slots=True)
class ChangedLine:
    """One thing that differs: where, what, how much of it before and after, and the amounts.

    `place` is the room or the floor; empty: the whole job. What is only a sum has no unit.
    `beside`: it comes in beside what the plan counts.
    """

    place: str
    label: str
    unit: str
    before: Decimal
    after: Decimal
    amount_before: Decimal
    amount_after: Decimal
    beside: bool = False

    @property
    def amount(self) -> Decimal:
        """By how much the price changes by it."""
        return self.amount_after - self.amount_before


@stored("place before after")
@dataclass(frozen=True, kw_only=True, slots=True)
class ChangedArea:
    """A floor that has another area: square feet before and after, 0 where there was none."""

    place: str
    before: Decimal
    after: Decimal


def changed_areas(before: FrozenScope, after: FrozenScope) -> tuple[ChangedArea, ...]:
    """Return the floors whose measured area differs, by the names that both scopes share."""
    were, are = _areas(before), _areas(after)
    areas = [
        ChangedArea(place=place, before=were.get(place, ZERO), after=are.get(place, ZERO))
        for place in dict.fromkeys((*were, *are))
    ]
    return tuple(area for area in areas if area.before != area.after)


def _areas(scope: FrozenScope) -> dict[str, Decimal]:
    sums: dict[str, Decimal] = {}
    for entry in scope.quantities:
        if entry.code == "floor_area":
            sums[entry.zone] = sums.get(entry.zone, ZERO) + entry.amount
    return sums


@dataclass(frozen=True, kw_only=True, slots=True)
class PlaceSum:
    """What a change comes to in one place, as the client reads it; empty: the whole job."""

    place: str
    area: ChangedArea | None
    amount: Decimal


def place_sums(lines: Iterable[ChangedLine], areas: Iterable[ChangedArea]) -> tuple[PlaceSum, ...]:
    """Return what the plan's lines come to by place: the floors first, the whole job last."""
    by_area = {area.place: area for area in areas}
    sums: dict[str, Decimal] = dict.fromkeys(by_area, ZERO)
    for line in lines:
        if not line.beside:
            sums[line.place] = sums.get(line.place, ZERO) + line.amount
    ordered = sorted(sums, key=lambda place: not place)
    return tuple(
        PlaceSum(place=place, area=by_area.get(place), amount=sums[place]) for place in ordered
    )


def changed_lines(before: Priced, after: Priced) -> tuple[ChangedLine, ...]:
    """Return what differs between two prices of a job; the amounts sum to what they differ by.

    Lines that cost nothing before and after are left out.
    """
    were, are = _by_key(before.lines), _by_key(after.lines)
    lines = [_line(were.get(key, ()), are.get(key, ())) for key in dict.fromkeys((*were, *are))]
    changed = [line for line in lines if _tells(line)]
    rest = after.subtotal - before.subtotal - sum((line.amount for line in changed), ZERO)
    if rest:
        changed.append(_sum_line(ROUNDING, rest))
    return tuple(changed)


def extra_lines(lines: Iterable[PricedLine]) -> tuple[ChangedLine, ...]:
    """Return lines that come in beside the plan, as what was not there before."""
    return tuple(replace(_line((), (line,)), beside=True) for line in lines)


def _tells(line: ChangedLine) -> bool:
    """Whether a line is a difference of its own: another quantity, or more than moved cents."""
    if line.before != line.after:
        return bool(line.amount_before or line.amount_after)
    return abs(line.amount) > CENT


def _by_key(lines: Iterable[PricedLine]) -> dict[LineKey, tuple[PricedLine, ...]]:
    grouped: dict[LineKey, tuple[PricedLine, ...]] = {}
    for line in lines:
        key = (line.kind, line.code, line.zone, line.room, line.item)
        grouped[key] = (*grouped.get(key, ()), line)
    return grouped


def _line(before: Sequence[PricedLine], after: Sequence[PricedLine]) -> ChangedLine:
    shown = (*after, *before)[0]
    return ChangedLine(
        place=shown.room or shown.zone,
        label=f"{shown.label}, {shown.item}" if shown.item else shown.label,
        unit=shown.unit,
        before=sum((line.quantity for line in before), ZERO),
        after=sum((line.quantity for line in after), ZERO),
        amount_before=sum((line.amount for line in before), ZERO),
        amount_after=sum((line.amount for line in after), ZERO),
    )


def _sum_line(label: str, amount: Decimal) -> ChangedLine:
    return ChangedLine(
        place="",
        label=label,
        unit="",
        before=ZERO,
        after=ZERO,
        amount_before=ZERO,
        amount_after=amount,
    )


def tax_of(amount: Decimal, difference: Decimal, tax_difference: Decimal) -> Decimal:
    """Return the sales tax on what was agreed, where `difference` was computed and its tax.

    Another amount than the computed one is taxed in the same proportion.
    """
    if not difference or amount == difference:
        return tax_difference
    return cents(tax_difference * amount / difference)
