"""The piles of a floor: which a product has, what was counted, what a plan is asked for then."""

from __future__ import annotations

from dataclasses import replace

from jobs.domain.floors.piles import PileKind, pile_kinds, piles_from
from jobs.domain.lengths import mm_in
from jobs.models import FloorZone, Product
from layout.values.leftovers import OnHand, Pile
from layout.values.request import PlanRequest


def kinds_of(product: Product) -> tuple[PileKind, ...]:
    """Return the piles that boards of a product are sorted into."""
    return pile_kinds(product.sizes, product.mixes, product.shades)


def with_piles(zone: FloorZone, request: PlanRequest) -> PlanRequest:
    """Return a floor's request with its counted piles at hand; unchanged where none was counted.

    What was counted goes before a number of planks at hand. Raises InputError for piles of what
    the product has not.
    """
    if not zone.piles:
        return request
    on_hand = request.on_hand or OnHand()
    return replace(request, on_hand=replace(on_hand, planks=None, piles=_piles(zone)))


def piles_words(zone: FloorZone) -> str:
    """Return in a few words what was counted of a floor; empty where nothing was."""
    piles = piles_from(zone.piles)
    if not piles:
        return ""
    planks, count = sum(pile.planks for pile in piles), len(piles)
    return f"{planks} whole planks in {count} pile{'' if count == 1 else 's'}"


def _piles(zone: FloorZone) -> tuple[Pile, ...]:
    unit = zone.job.unit
    length = mm_in(zone.product.length_mm, unit)
    return tuple(
        Pile(
            length=length,
            width=mm_in(pile.width_mm, unit),
            variant=pile.variant or None,
            planks=pile.planks,
        )
        for pile in piles_from(zone.piles)
    )
