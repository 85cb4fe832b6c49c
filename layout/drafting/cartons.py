"""What a plan takes of cartons and piles: cartons, what its shades come from, what is missing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from layout.values.advice import ShortPile, SpreadRule
from layout.values.goods.piles import Shade, SizePiles, Supply, cartons_to_buy
from layout.values.material import Flooring
from layout.values.request import PlanRequest
from layout.values.tolerances import TOUCHING_TOLERANCE

Kind = tuple[float, Shade]  # width and shade of a plank

# How a person spreads shades by eye while laying, by the least number of them that it takes: a
# whole plank meets one plank of its row and two of the row before.
_SPREAD_RULES = {
    4: "no like plank within 2 rows and 1 plank",
    3: "no like plank end to end, and no three together",
    2: "no like plank end to end",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Shortage:
    """What is missing of what is there: planks in all, cartons to buy, planks by width and shade.

    Spares may be of any width and shade, so that ``planks`` may be more than the piles lack.
    """

    planks: int = 0
    cartons: int = 0
    piles: tuple[ShortPile, ...] = ()


def cartons_for(product: Flooring, widths: Sequence[float], spares: int) -> int:
    """Return the cartons that hold planks of these widths and spares of any.

    Shades are chosen from what these hold, so that they never ask for another one.
    """
    cartons = ceil((len(widths) + spares) / product.per_carton)
    for board in product.boards:
        cartons = max(cartons, ceil(_count(widths, board.width) / board.per_carton))
    return cartons


def supplies_for(request: PlanRequest, widths: Sequence[float]) -> dict[float, Supply]:
    """Return what planks of these widths may be taken from, by width and shade.

    Widths whose planks all look alike are left out.
    """
    sizes = request.sizes
    cartons = _bought(sizes, widths)
    if not sizes[0].counted:
        cartons = cartons_for(request.product, widths, request.spares)
    return {
        size.board.width: size.supply(_count(widths, size.board.width), cartons)
        for size in sizes
        if size.shaded
    }


def shortage_of(request: PlanRequest, planks: Sequence[Kind]) -> Shortage:
    """Return what new planks lack of what is there; nothing where there is no limit."""
    on_hand, sizes = request.on_hand, request.sizes
    if on_hand is None or on_hand.whole is None:
        return Shortage()
    short = max(0, len(planks) + request.spares - on_hand.whole)
    per_carton = request.product.per_carton
    if not sizes[0].counted:
        return Shortage(planks=short, cartons=ceil(short / per_carton))
    piles = tuple(pile for size in sizes for pile in _short_piles(size, planks))
    short = max(short, sum(pile.planks for pile in piles))
    cartons = max(ceil(short / per_carton), _bought(sizes, [width for width, _ in planks]))
    return Shortage(planks=short, cartons=cartons, piles=piles)


def _short_piles(size: SizePiles, planks: Sequence[Kind]) -> list[ShortPile]:
    """Return what planks of one size lack, by shade."""
    width, there = size.board.width, dict(size.piles)
    taken = Counter(name for of, name in planks if abs(of - width) < TOUCHING_TOLERANCE)
    return [
        ShortPile(width=width, variant=name, planks=count - there.get(name, 0))
        for name, count in sorted(taken.items(), key=lambda entry: entry[0] or "")
        if count > there.get(name, 0)
    ]


def spread_rule(request: PlanRequest) -> SpreadRule | None:
    """Return how to spread shades by eye, None where every plank's shade is known or all alike."""
    shades = request.product.shades
    if shades is None or any(size.shaded for size in request.sizes):
        return None
    rule = next(rule for least, rule in _SPREAD_RULES.items() if shades >= least)
    return SpreadRule(shades=shades, rule=rule)


def _bought(sizes: Sequence[SizePiles], widths: Sequence[float]) -> int:
    """Return the cartons to buy for planks of these widths."""
    return cartons_to_buy(sizes, [_count(widths, size.board.width) for size in sizes])


def _count(widths: Sequence[float], width: float) -> int:
    """Return how many of some widths are ``width``."""
    return sum(abs(one - width) < TOUCHING_TOLERANCE for one in widths)
