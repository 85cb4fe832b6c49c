"""Piles: whole planks counted by width and shade, what they lack for a floor, what cartons bring.

Where piles are counted, a plan is made of exactly these: every plank that is in no pile is missing.
As few are missing as rows allow: while one plank of a width lies in a pile, none of that width is
bought. What is missing is bought by the carton, and comes in the shades that cartons hold.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from layout.values.errors import Described, InputError
from layout.values.leftovers import OnHand, Pile
from layout.values.material import Board, Flooring

Shade = str | None
Supply = dict[Shade, int]  # planks by shade; None: no shade that anybody knows


@dataclass(frozen=True, slots=True, kw_only=True)
class SizePiles:
    """What there is of one board size: whole planks by shade, and what a carton brings of each.

    The shade is None where boards look alike, or where nobody knows the mix. Where piles are not
    ``counted`` all planks come in cartons.
    """

    board: Board
    counted: bool
    piles: tuple[tuple[Shade, int], ...]
    carton: tuple[tuple[Shade, int], ...]

    @property
    def there(self) -> int:
        """Planks of this size in all piles."""
        return sum(planks for _, planks in self.piles)

    @property
    def shaded(self) -> bool:
        """Whether planks of this size have shades that are known."""
        return any(shade is not None for shade, _ in (*self.piles, *self.carton))

    def held(self, cartons: int) -> int:
        """Return the planks of this size in all piles and some cartons."""
        return self.there + cartons * self.board.per_carton

    def missing(self, planks: int) -> int:
        """Return how many of so many planks are in no pile."""
        return max(0, planks - self.there)

    def supply(self, planks: int, cartons: int) -> Supply:
        """Return what so many planks may be taken from: piles and some cartons, by shade.

        Where piles are counted no more comes from cartons than is missing, of the shades that
        there are fewest of.
        """
        if not self.counted:
            return {shade: cartons * count for shade, count in self.carton}
        supply = dict(self.piles)
        brought = {shade: cartons * count for shade, count in self.carton}
        for _ in range(self.missing(planks)):
            left = [shade for shade, count in brought.items() if count > 0]
            shade = min(left, key=lambda name: (supply.get(name, 0), name or ""))
            supply[shade] = supply.get(shade, 0) + 1
            brought[shade] -= 1
        return supply


def size_piles(product: Flooring, on_hand: OnHand | None, near: float) -> tuple[SizePiles, ...]:
    """Return what there is of every board size, in the order of the product's boards."""
    piles = on_hand.piles if on_hand is not None else ()
    sizes = []
    for board in product.boards:
        mix: Sequence[tuple[Shade, int]] = tuple(product.mix_of(board).items())
        of_size = ((p.variant, p.planks) for p in piles if _is_of(p, board, near))
        size = SizePiles(
            board=board,
            counted=bool(piles),
            piles=tuple(of_size),
            carton=tuple(mix) or ((None, board.per_carton),),
        )
        sizes.append(size)
    return tuple(sizes)


def cartons_to_buy(sizes: Sequence[SizePiles], planks: Sequence[int]) -> int:
    """Return the cartons that bring what the piles lack of so many planks of every size."""
    taken = zip(sizes, planks, strict=True)
    return max(ceil(size.missing(count) / size.board.per_carton) for size, count in taken)


def check_piles(product: Flooring, on_hand: OnHand, near: float) -> None:
    """Refuse piles of what the product has not, piles told twice, and piles miscounted.

    Piles that are too few for a floor are no fault: the plan tells what is missing. Raises
    InputError.
    """
    piles = on_hand.piles
    if not piles:
        return
    kinds = [_kind(product, pile, f"on_hand.piles[{i}]", near) for i, pile in enumerate(piles)]
    for (width, shade), count in Counter(kinds).items():
        if count > 1:
            of = "" if shade is None else f', variant "{shade}"'
            value = Described(f"width {width:g}{of} stands {count} times")
            raise InputError("on_hand.piles", value, "each width and variant once")
    if len({pile.variant is None for pile in piles}) > 1 and product.shades is not None:
        value = Described("piles with a variant beside piles without")
        raise InputError("on_hand.piles", value, "a variant for every pile, or for none")
    total = sum(pile.planks for pile in piles)
    if total == 0:
        value = Described("no plank in any pile")
        raise InputError("on_hand.piles", value, "1 plank or more, or no piles at all")
    if on_hand.planks not in (None, total):
        raise InputError("on_hand.planks", on_hand.planks, f"{total}, all piles together")


def _kind(product: Flooring, pile: Pile, where: str, near: float) -> tuple[float, Shade]:
    """Return the width and shade of a pile. Raises InputError where the product has none such."""
    board = next((board for board in product.boards if _is_of(pile, board, near)), None)
    if board is None:
        accepted = " or ".join(f"{b.length:g} x {b.width:g}" for b in product.boards)
        size = Described(f"{pile.length:g} x {pile.width:g}")
        raise InputError(f"{where}.width", size, accepted)
    named = tuple(product.mix_of(board)) or product.shade_names
    alike = product.shades is not None or not named
    if pile.variant not in named and not (pile.variant is None and alike):
        value: str = Described("missing") if pile.variant is None else pile.variant
        accepted = ", ".join(named) or f"none: all boards of width {board.width:g} look alike"
        raise InputError(f"{where}.variant", value, accepted)
    return board.width, pile.variant


def _is_of(pile: Pile, board: Board, near: float) -> bool:
    """Whether a pile holds boards of this size."""
    return max(abs(pile.length - board.length), abs(pile.width - board.width)) <= near
