"""Materials of a review: planned, bought, returned, left over, wasted."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from decimal import Decimal

from estimates.domain.money import spread
from estimates.domain.priced import Priced, PricedLine
from estimates.domain.review.values import Bought, MaterialRow
from jobs.domain.checks import ZERO
from jobs.domain.scope.scope import FrozenScope

Counted = tuple[str, str, Decimal, Decimal]
"""Label, unit, amount and cost of a material."""


def material_rows(
    quoted: Priced, agreed: Priced, purchases: Sequence[Bought], scope: FrozenScope
) -> tuple[MaterialRow, ...]:
    """Return a row for each material that was quoted, agreed or bought, in that order."""
    estimated, settled = _by_code(quoted), _by_code(agreed)
    bought: dict[str, list[Bought]] = defaultdict(list)
    for purchase in purchases:
        bought[purchase.code].append(purchase)
    rows = []
    for code in dict.fromkeys((*estimated, *settled, *bought)):
        first, now, receipts = estimated.get(code), settled.get(code), bought.get(code, [])
        named = now or first
        label, unit = (named[0], named[1]) if named else (receipts[0].label, receipts[0].unit)
        amounts = _amounts(receipts, unit)
        takes = (now[2] if now else ZERO) - _not_laid(code, scope)
        rows.append(
            MaterialRow(
                code=code,
                label=label,
                unit=unit,
                estimated=first[2] if first else ZERO,
                agreed=now[2] if now else ZERO,
                bought=amounts["bought"] if amounts is not None else None,
                returned=amounts["returned"] if amounts is not None else ZERO,
                left=amounts["attic"] + amounts["kept"] if amounts is not None else ZERO,
                wasted=_wasted(amounts, takes) if amounts is not None and named else None,
                estimated_cost=first[3] if first else ZERO,
                agreed_cost=now[3] if now else ZERO,
                paid=sum((each.cost for each in receipts), ZERO),
                credit=sum((each.paid for each in receipts if each.kind == "returned"), ZERO),
            )
        )
    return tuple(rows)


def _amounts(receipts: Iterable[Bought], unit: str) -> dict[str, Decimal] | None:
    """Return amounts by what became of them; None where one is in another unit."""
    amounts: dict[str, Decimal] = defaultdict(Decimal)
    for each in receipts:
        if each.unit != unit:
            return None
        amounts[each.kind] += each.quantity
    return amounts


def _wasted(amounts: dict[str, Decimal], takes: Decimal) -> Decimal:
    """Return what was used beyond what the work takes; nothing while less was bought."""
    used = amounts["bought"] - amounts["returned"] - amounts["attic"] - amounts["kept"]
    return max(used - takes, ZERO)


def _not_laid(code: str, scope: FrozenScope) -> Decimal:
    """Return the cartons that are bought to stay shut: the attic's, and those that may go back."""
    if code != "cartons":
        return ZERO
    shut = ("cartons_attic", "cartons_returnable")
    return sum((entry.amount for entry in scope.quantities if entry.code in shut), ZERO)


def _by_code(priced: Priced) -> dict[str, Counted]:
    """Label, unit, amount and cost with its tax of each material of a priced scope."""
    lines = [line for line in priced.lines if line.kind in ("material", "added")]
    taxed = spread(priced.use_tax, [line.cost if line.taxable else ZERO for line in lines])
    by_code: dict[str, Counted] = {}
    for line, tax in zip(lines, taxed, strict=True):
        _, _, amount, cost = by_code.get(line.code, ("", "", ZERO, ZERO))
        by_code[line.code] = _summed(line, amount, cost + tax)
    return by_code


def _summed(line: PricedLine, amount: Decimal, cost: Decimal) -> Counted:
    return line.label, line.unit, amount + line.quantity, cost + line.cost
