"""The job in another product: from plans that were made to compare floors, each with its counts."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace

from django.urls import reverse

from estimates.readers.options.way import NoWay, Otherwise, Way, WayPage
from estimates.readers.options.ways import FLATNESS, without_leveler
from jobs.domain.scope.inputs import JobTake, PlanCounts, ZoneTake
from jobs.models import FloorZone, Job, Product
from jobs.readers.floors.suitability import fitness_of
from jobs.readers.scope import product_take
from jobs.services.floors.comparison import Compared, alternatives_of

Counts = Mapping[int, PlanCounts]
"""The plans of floors in another product, by the floor's pk."""


def product_ways(
    job: Job, zones: Sequence[FloorZone], takes: JobTake
) -> tuple[tuple[Way, ...], tuple[NoWay, ...]]:
    """Return a way for each other product that floors were planned in, and those that can't be."""
    planned, refused = _planned(zones)
    products = job.company.products.in_bulk([*planned, *refused])
    ways: list[Way] = []
    without: list[NoWay] = []
    for pk, counts in planned.items():
        in_it = [zone for zone in zones if zone.pk in counts]
        misfits = [fault for zone in in_it for fault in fitness_of(zone, products[pk]).faults]
        if misfits:
            without.append(NoWay(title=str(products[pk]), reason=misfits[0].sentence))
        else:
            ways += _ways_in(products[pk], in_it, counts, takes, whole=len(in_it) == len(zones))
    for pk, zone in refused.items():
        if pk not in planned:
            reason = f"It can't be planned on {zone}; the comparison says why."
            without.append(NoWay(title=str(products[pk]), reason=reason, page=_comparison(zone)))
    return tuple(ways), tuple(without)


def _planned(
    zones: Sequence[FloorZone],
) -> tuple[dict[int, dict[int, PlanCounts]], dict[int, FloorZone]]:
    """Return other products by pk: those with plans, the best of each floor, and those refused."""
    compared = alternatives_of(zones)
    planned: dict[int, dict[int, PlanCounts]] = defaultdict(dict)
    refused: dict[int, FloorZone] = {}
    for zone in zones:
        for row in _of_other_boards(zone, compared.get(zone.pk, [])):
            counts = row.plan_counts
            if row.refused:
                refused.setdefault(row.product, zone)
            elif counts is not None:
                planned[row.product].setdefault(zone.pk, counts)
    return dict(planned), refused


def _of_other_boards(zone: FloorZone, rows: Sequence[Compared]) -> list[Compared]:
    return [row for row in rows if row.product != zone.product_id]


def _ways_in(
    product: Product, zones: Sequence[FloorZone], counts: Counts, takes: JobTake, *, whole: bool
) -> list[Way]:
    """Return the floors in a product; where it is thicker, also without leveling under it."""
    first, *_ = zones
    on = "" if whole else f" on {', '.join(zone.name for zone in zones)}"
    way = Way(
        key=f"product-{product.pk}",
        title=f"{product}{on}",
        instead=f"{boards_beside(product, first.product)} {first.product}",
        otherwise=_in_product(product, zones, counts),
        page=_comparison(first),
    )
    thicker = all(product.thickness_mm > zone.product.thickness_mm for zone in zones)
    if not thicker or not any(room.leveler_bags for room in takes.rooms):
        return [way]
    without = replace(
        way,
        key=f"{way.key}-no-leveler",
        title=f"{way.title}, no leveling",
        instead=f"a thicker core in place of leveling under {first.product}",
        otherwise=lambda takes: without_leveler(way.otherwise(takes)),
        cautions=(FLATNESS,),
    )
    return [way, without]


def boards_beside(product: Product, other: Product) -> str:
    """Return in words how the boards of a product differ from another's."""
    words = [
        larger if mine > theirs else smaller
        for mine, theirs, larger, smaller in (
            (product.width_mm, other.width_mm, "wider", "narrower"),
            (product.length_mm, other.length_mm, "longer", "shorter"),
            (product.thickness_mm, other.thickness_mm, "thicker", "thinner"),
        )
        if mine != theirs
    ]
    if not words:
        return "in place of"
    return f"{' and '.join(', '.join(words).rsplit(', ', 1))} boards in place of"


def _in_product(product: Product, zones: Sequence[FloorZone], counts: Counts) -> Otherwise:
    by_name = {zone.name: zone for zone in zones}

    def otherwise(takes: JobTake) -> JobTake:
        return replace(takes, zones=tuple(_zone(take) for take in takes.zones))

    def _zone(take: ZoneTake) -> ZoneTake:
        zone = by_name.get(take.name)
        if zone is None:
            return take
        pad = zone.pad or zone.product.attached_pad
        into = product_take(product, pad=pad, barrier=zone.barrier)
        return replace(take, product=into, plan=counts[zone.pk])

    return otherwise


def _comparison(zone: FloorZone) -> WayPage:
    words = f"Open the comparison of {zone}"
    return WayPage(words=words, url=reverse("zone-compare", args=[zone.pk]))
