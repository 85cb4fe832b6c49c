"""Cartons of a job by product: what all its floors and stairs take together, once all are planned.

A plan speaks of its own floor. Cartons are bought for the job: rounded up once, of one lot.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.domain.formats import BrokenDocumentError
from jobs.domain.quantities import in_units
from jobs.domain.scope.flooring import ProductCount, cartons_basis, count_products
from jobs.models import FloorPlan, FloorZone
from jobs.readers.openings.stairs import stair_takes
from jobs.readers.scope import zone_take


@dataclass(frozen=True, kw_only=True, slots=True)
class BoughtCartons:
    """The cartons of one product for the whole job, in words for a page."""

    product: str
    cartons: int
    basis: str
    back: str


def bought_cartons(
    zones: Sequence[FloorZone], plans: Mapping[int, FloorPlan]
) -> list[BoughtCartons]:
    """Return the cartons of a job's floors; nothing while a floor has no plan that can be read.

    ``plans``: the newest plan of each floor, by the floor's pk.
    """
    if not zones or any(zone.pk not in plans for zone in zones):
        return []
    try:
        takes = tuple(zone_take(zone, plans[zone.pk]) for zone in zones)
    except BrokenDocumentError:
        return []
    counts = count_products(takes, stair_takes(zones[0].job, zones))
    return [_in_words(count) for count in counts]


def _in_words(count: ProductCount) -> BoughtCartons:
    back = in_units(Decimal(count.returnable), "carton") if count.returnable else "None"
    return BoughtCartons(
        product=count.item, cartons=count.cartons, basis=cartons_basis(count), back=back
    )


def shares_product(zone: FloorZone) -> bool:
    """Whether another floor of the job is laid with the same product, bought together with it."""
    return zone.job.zones.filter(product=zone.product_id).exclude(pk=zone.pk).exists()
