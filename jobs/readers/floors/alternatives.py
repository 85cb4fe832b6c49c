"""Floors in other products that were planned whole: what a choice of a quote is made from."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from copy import copy
from dataclasses import dataclass
from decimal import Decimal

from jobs.models import AlternativePlan, FloorPlan, FloorZone, Product
from jobs.readers.floors.floors import FloorRows, floor_rows
from jobs.readers.plan_request import whats_changed

ALTERED = ("product", "direction_deg", "piles", "pad", "stock_planks")
"""What of a floor is another in another product."""


def put_in(zone: FloorZone, product: Product, direction_deg: Decimal) -> None:
    """Put a floor into a product and a direction, unsaved.

    Piles were counted, and planks of ours kept, of the boards before. Boards without a pad of
    their own get a separate one in place of an attached one, where they may have it.
    """
    if product.pk != zone.product_id:
        zone.piles, zone.stock_planks = [], 0
        wanted = zone.pad or zone.product.attached_pad
        zone.pad = wanted and not product.attached_pad and product.separate_pad != "no"
    zone.product, zone.direction_deg = product, direction_deg


def zone_in(zone: FloorZone, product: Product, direction_deg: Decimal) -> FloorZone:
    """Return a floor as it would be in a product and a direction; the floor itself stays."""
    other = copy(zone)
    put_in(other, product, direction_deg)
    return other


@dataclass(frozen=True, kw_only=True, slots=True)
class PlannedOtherwise:
    """A floor as it is in another product, with its plan in that product, neither saved."""

    kept: AlternativePlan
    zone: FloorZone
    plan: FloorPlan

    def misfit(self, rows: FloorRows | None = None) -> str:
        """Return why the plan no longer fits the floor, in a sentence; empty while it fits."""
        return whats_changed(self.plan, rows)


def planned_otherwise(kept: AlternativePlan, zone: FloorZone) -> PlannedOtherwise:
    """Return a floor in the product of a kept plan, with that plan."""
    other = zone_in(zone, kept.product, kept.direction_deg)
    plan = FloorPlan(zone=other, document=kept.document, request=kept.request)
    return PlannedOtherwise(kept=kept, zone=other, plan=plan)


def alternatives_kept(
    zones: Sequence[FloorZone],
) -> Mapping[int, tuple[PlannedOtherwise, ...]]:
    """Return by its pk each other product that floors are planned in, those floors with it.

    Of a floor and product the newest plan counts, and only while it fits the rooms as they stand.
    A product that is retired, and a floor that is begun, are left out.
    """
    rows = floor_rows(zones)
    by_product: dict[int, list[PlannedOtherwise]] = defaultdict(list)
    newest = _newest(zones)
    for zone in zones:
        for kept in newest.get(zone.pk, ()):
            other = planned_otherwise(kept, zone)
            if kept.product_id != zone.product_id and not other.misfit(rows[zone.pk]):
                by_product[kept.product_id].append(other)
    return {pk: tuple(others) for pk, others in by_product.items()}


def _newest(zones: Iterable[FloorZone]) -> dict[int, list[AlternativePlan]]:
    """Return the newest kept plan of each product by the floor's pk."""
    open_now = [zone.pk for zone in zones if not zone.going_on]
    rows = AlternativePlan.objects.filter(zone__in=open_now, product__retired_at__isnull=True)
    newest: dict[tuple[int, int], AlternativePlan] = {}
    for row in rows.select_related("product", "document", "request").order_by("-pk"):
        newest.setdefault((row.zone_id, row.product_id), row)
    by_zone: dict[int, list[AlternativePlan]] = defaultdict(list)
    for (zone, _), row in sorted(newest.items(), key=lambda pair: pair[1].pk):
        by_zone[zone].append(row)
    return by_zone
