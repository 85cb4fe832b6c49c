"""How opened cartons are sorted into piles, and what each row is begun with, in words. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from jobs.domain.lengths import core_size_words
from jobs.domain.plans.advice import spread_sentence
from layout.cutsheet.loads import PlankLoad, loads_by_row, loads_in_all
from layout.values.plan import Plan
from layout.values.request import PlanRequest


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardPile:
    """New planks of one width and shade ("": nobody knows it, or all look alike)."""

    width: float
    wide: str
    variant: str
    planks: int


@dataclass(frozen=True, slots=True, kw_only=True)
class RowPiles:
    """What is brought to one row, in a line."""

    row: int
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Sorting:
    """The piles of a floor, the widest first; the rows begun from them; how they are sorted."""

    piles: tuple[BoardPile, ...]
    rows: tuple[RowPiles, ...]
    how: str

    @property
    def words(self) -> str:
        """All piles in a line."""
        return piles_words(self.piles)

    def of_row(self, number: int) -> str:
        """Return what is brought to a row; empty where it is laid of leftovers alone."""
        return next((row.words for row in self.rows if row.row == number), "")


def sorting_of(request: PlanRequest, plan: Plan) -> Sorting | None:
    """Return how the planks of a plan are sorted, None where all boards are alike."""
    product = request.product
    shaded = product.shades or any(product.mix_of(board) for board in product.boards)
    if len(product.boards) == 1 and not shaded:
        return None
    rows = loads_by_row(request, plan)
    return Sorting(
        piles=_piles(loads_in_all(rows), plan.unit),
        rows=tuple(
            RowPiles(row=row.row, words=piles_words(_piles(row.loads, plan.unit))) for row in rows
        ),
        how=_how(request, plan),
    )


def piles_words(piles: tuple[BoardPile, ...]) -> str:
    """Return piles in a line, width by width."""
    by_width: dict[str, list[BoardPile]] = {}
    for pile in piles:
        by_width.setdefault(pile.wide, []).append(pile)
    return "; ".join(
        f"{', '.join(_counted(pile) for pile in of_width)}, {wide} wide"
        for wide, of_width in by_width.items()
    )


def _counted(pile: BoardPile) -> str:
    return f"{pile.planks} of {pile.variant}" if pile.variant else str(pile.planks)


def _piles(loads: tuple[PlankLoad, ...], unit: str) -> tuple[BoardPile, ...]:
    return tuple(
        BoardPile(
            width=load.width,
            wide=core_size_words(load.width, unit),
            variant=load.variant or "",
            planks=load.planks,
        )
        for load in loads
    )


def _how(request: PlanRequest, plan: Plan) -> str:
    """Return how a person sorts what is opened. Common practice, no source."""
    product = request.product
    if request.on_hand is not None and request.on_hand.piles:
        return "Keep the piles as they were counted, and take every row from them."
    heads = []
    if len(product.boards) > 1:
        heads.append("width")
    if any(product.mix_of(board) for board in product.boards):
        heads.append("shade")
    if not heads:
        return f"Open several cartons at once and mix them. {spread_sentence(plan)}."
    sort = f"one pile for each {' and '.join(heads)}"
    words = f"Open the cartons before row 1, boards face up, {sort}; take every row from its piles."
    spread = spread_sentence(plan)
    return f"{words} {spread}." if spread else words
