"""Whole planks counted by width and shade once cartons are open: which piles, do they add up. Pure.

Where a carton says how many boards it holds of each shade the piles have their names; where it
doesn't the shades that a person sorts are A, B, C and so on.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from string import ascii_uppercase


@dataclass(frozen=True, slots=True, kw_only=True)
class PileKind:
    """One pile that boards are sorted into: their width, their shade ("": all look alike)."""

    width_mm: Decimal
    variant: str
    per_carton: int  # boards of this width, all shades together


@dataclass(frozen=True, slots=True, kw_only=True)
class CountedPile:
    """Whole planks of one width and shade."""

    width_mm: Decimal
    variant: str
    planks: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Miscount:
    """Boards of a width that are not those of so many cartons: what was counted, what would be."""

    width_mm: Decimal
    counted: int
    held: int


def pile_kinds(
    sizes: Sequence[tuple[Decimal, int]], mixes: Sequence[Mapping[str, int]], shades: int | None
) -> tuple[PileKind, ...]:
    """Return the piles of a product: by its widths, boards in a carton, and their shades."""
    letters = tuple(ascii_uppercase[: shades or 0])
    return tuple(
        PileKind(width_mm=width, variant=name, per_carton=count)
        for (width, count), mix in zip(sizes, mixes, strict=True)
        for name in (tuple(mix) or letters or ("",))
    )


def miscounts(
    kinds: Sequence[PileKind], piles: Iterable[CountedPile], cartons: int
) -> tuple[Miscount, ...]:
    """Return the widths of which so many whole cartons hold another number than was counted."""
    counted: dict[Decimal, int] = {kind.width_mm: 0 for kind in kinds}
    for pile in piles:
        counted[pile.width_mm] += pile.planks
    held = {kind.width_mm: kind.per_carton * cartons for kind in kinds}
    return tuple(
        Miscount(width_mm=width, counted=count, held=held[width])
        for width, count in counted.items()
        if count != held[width]
    )


def stored_piles(piles: Iterable[CountedPile]) -> list[dict[str, object]]:
    """Return piles as a floor keeps them; none where nothing was counted."""
    return [
        {"width_mm": f"{pile.width_mm.normalize():f}", "variant": pile.variant, "planks": count}
        for pile in piles
        if (count := pile.planks)
    ]


def piles_from(rows: Iterable[Mapping[str, object]]) -> tuple[CountedPile, ...]:
    """Return the piles that a floor keeps."""
    return tuple(
        CountedPile(
            width_mm=Decimal(str(row["width_mm"])),
            variant=str(row["variant"]),
            planks=int(str(row["planks"])),
        )
        for row in rows
    )
