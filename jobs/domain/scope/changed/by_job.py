"""Scopes that counted goods floor by floor, held against those that count them by the job. Pure.

Until 0.4.0 cartons, rolls and nosing stood with their floor. A scope of then still says so, and a
job that was agreed on it changes nothing by being counted anew: what only the way of counting
moved is no change.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal

from jobs.domain.checks import ZERO
from jobs.domain.quantities import Quantity

BY_JOB: Mapping[str, str] = {
    "cartons": "planks",
    "pad": "pad_area",
    "vapour_barrier": "pad_area",
    "nosing_stock": "nosings",
}
"""Goods that are counted by the job now, and what tells whether there is more of them to do."""

_WITH_ROLLS = ("seam_tape",)
_BY_WEIGHT = ("carry", "carry_up")

Goods = tuple[str, str]


def comparable(
    old: Sequence[Quantity], new: Sequence[Quantity]
) -> tuple[list[Quantity], list[Quantity]]:
    """Return what two scopes count, so that only real changes differ.

    Goods that the older one counted by floor are told by the job in both, and left out of both
    where only the counting moved them.
    """
    if not any(_is_by_floor(entry) for entry in old):
        return list(old), list(new)
    alike = _moved_by_counting(old, new)
    return (
        [entry for entry in summed_by_job(old) if _goods(entry) not in alike],
        [entry for entry in summed_by_job(new) if _goods(entry) not in alike],
    )


def summed_by_job(quantities: Iterable[Quantity]) -> list[Quantity]:
    """Return quantities with goods that stood by floor as one of the job, in their first place."""
    summed: dict[tuple[str, ...], Quantity] = {}
    for entry in quantities:
        if not _is_by_floor(entry):
            summed[entry.key] = entry
            continue
        one = replace(entry, zone="", room="")
        before = summed.get(one.key)
        sum_of = one.amount + (before.amount if before else ZERO)
        summed[one.key] = replace(one, amount=sum_of)
    return list(summed.values())


def _is_by_floor(entry: Quantity) -> bool:
    return entry.code in BY_JOB and bool(entry.zone)


def _goods(entry: Quantity) -> Goods:
    return entry.code, entry.item


def _moved_by_counting(old: Sequence[Quantity], new: Sequence[Quantity]) -> set[Goods]:
    """Return the goods whose amount the way of counting moved and nothing else."""
    alike = {goods for goods in _items_of(BY_JOB, old, new) if _as_much_to_do(goods, old, new)}
    if alike & _items_of(("pad", "vapour_barrier"), old, new):
        alike |= _items_of(_WITH_ROLLS, old, new)
    if _items_of(("cartons",), old, new) <= alike and _as_much("leveller", None, old, new):
        alike |= _items_of(_BY_WEIGHT, old, new)
    return alike


def _items_of(codes: Iterable[str], *scopes: Sequence[Quantity]) -> set[Goods]:
    wanted = set(codes)
    return {_goods(entry) for scope in scopes for entry in scope if entry.code in wanted}


def _as_much_to_do(goods: Goods, old: Sequence[Quantity], new: Sequence[Quantity]) -> bool:
    """Whether both scopes take such goods, and as much is done with them in both."""
    code, item = goods
    driver = BY_JOB[code]
    if not all(any(entry.code == code for entry in scope) for scope in (old, new)):
        return False
    of_item = item if driver == "planks" else None
    in_bounds = code != "cartons" or _within_rounding(old, new, item)
    return in_bounds and _as_much(driver, of_item, old, new)


def _as_much(code: str, item: str | None, old: Sequence[Quantity], new: Sequence[Quantity]) -> bool:
    return _sum(old, code, item) == _sum(new, code, item)


def _within_rounding(old: Sequence[Quantity], new: Sequence[Quantity], item: str) -> bool:
    """Whether cartons are fewer by no more than what each floor rounded up, and its attic's."""
    floors = [entry for entry in old if (entry.code, entry.item) == ("cartons", item)]
    fewer = _sum(old, "cartons", item) - _sum(new, "cartons", item)
    return 0 <= fewer <= 2 * (len(floors) - 1)


def _sum(quantities: Sequence[Quantity], code: str, item: str | None) -> Decimal:
    of_code = (entry for entry in quantities if entry.code == code)
    return sum((e.amount for e in of_code if item is None or e.item == item), ZERO)
