"""Planks that other jobs left over: offered to a floor of their product, and planned with."""

from __future__ import annotations

from dataclasses import dataclass, replace

from jobs.models import Company, FloorZone, LeftoverStock
from layout.values.leftovers import OnHand
from layout.values.request import PlanRequest


@dataclass(frozen=True, kw_only=True, slots=True)
class StockOffer:
    """Planks of ours for a floor: those it has, and those it may take, by lot."""

    taken: tuple[LeftoverStock, ...]
    free: tuple[LeftoverStock, ...]


def stock_for(zone: FloorZone) -> StockOffer:
    """Return the planks of the product of a floor that it has, and those that nobody has."""
    rows = LeftoverStock.objects.filter(product=zone.product_id).select_related("source")
    ours = [row for row in rows if row.zone_id in (None, zone.pk)]
    return StockOffer(
        taken=tuple(row for row in ours if row.zone_id == zone.pk),
        free=tuple(row for row in ours if row.zone_id is None) if not zone.going_on else (),
    )


def stock_of(company: Company) -> list[LeftoverStock]:
    """Return all planks that jobs left over, by product and lot."""
    rows = LeftoverStock.objects.filter(company=company)
    rows = rows.select_related("product", "source", "zone__job")
    return list(rows.order_by("product__name", "lot", "kept_on"))


def with_stock(zone: FloorZone, request: PlanRequest) -> PlanRequest:
    """Return the request of a floor with its planks of ours at hand; unchanged where it has none.

    A floor that is begun says itself what is at hand.
    """
    if not zone.stock_planks or request.on_hand is not None:
        return request
    return replace(request, on_hand=OnHand(planks=zone.stock_planks))
