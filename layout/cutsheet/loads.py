"""What is carried to every row: new planks by width and shade, so that piles are sorted once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from layout.values.plan import Plan
from layout.values.request import PlanRequest


@dataclass(frozen=True, slots=True, kw_only=True)
class PlankLoad:
    """So many whole planks of one width and shade (None: all look alike, or nobody knows)."""

    width: float
    variant: str | None
    planks: int


@dataclass(frozen=True, slots=True, kw_only=True)
class RowLoad:
    """The planks that a row is begun with, those of leftovers aside; the widest first."""

    row: int
    loads: tuple[PlankLoad, ...]


def loads_by_row(request: PlanRequest, plan: Plan) -> tuple[RowLoad, ...]:
    """Return the new planks of every row, in the order of laying.

    A plank is carried to the row in which its first piece lies; a row laid of leftovers alone has
    no load. What was begun before this plan is not carried again.
    """
    offcuts = request.on_hand.offcuts if request.on_hand is not None else ()
    begun = {piece.plank for piece in request.laid} | {offcut.plank for offcut in offcuts}
    rows: dict[int, Counter[tuple[float, str | None]]] = {}
    for piece in plan.pieces:
        if piece.plank not in begun:
            begun.add(piece.plank)
            rows.setdefault(piece.row, Counter())[piece.size[1], piece.variant] += 1
    return tuple(RowLoad(row=row, loads=_sorted(kinds)) for row, kinds in rows.items())


def loads_in_all(rows: Iterable[RowLoad]) -> tuple[PlankLoad, ...]:
    """Return the planks of some rows together: the piles to sort, the widest first."""
    kinds: Counter[tuple[float, str | None]] = Counter()
    for row in rows:
        for load in row.loads:
            kinds[load.width, load.variant] += load.planks
    return _sorted(kinds)


def _sorted(kinds: Counter[tuple[float, str | None]]) -> tuple[PlankLoad, ...]:
    """Return counts as loads, the widest first, shades by name."""
    ranked = sorted(kinds.items(), key=lambda entry: (-entry[0][0], entry[0][1] or ""))
    return tuple(
        PlankLoad(width=width, variant=variant, planks=planks)
        for (width, variant), planks in ranked
    )
