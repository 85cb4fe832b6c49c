"""The job in another product: from plans that were made to compare floors, or from their counts."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace
from decimal import Decimal

from django.urls import reverse

from estimates.readers.options.way import NoWay, Otherwise, Way, WayPage, unchanged
from estimates.readers.options.ways import FLATNESS, without_leveler
from jobs.domain.floors.suitability import Misfit
from jobs.domain.scope.inputs import JobTake, PlanCounts, ZoneTake
from jobs.domain.site.cautions import cautions_for
from jobs.models import FloorPlan, FloorZone, Job, Product
from jobs.readers.floors.alternatives import PlannedOtherwise, alternatives_kept
from jobs.readers.floors.suitability import fitness_of
from jobs.readers.moisture.gates import gates_of
from jobs.readers.scope import product_take
from jobs.readers.site import facts_in
from jobs.services.floors.comparison import Compared, alternatives_of
from jobs.services.scope import WorkBasis

PRODUCT, NO_LEVELER = "product-", "-no-leveler"
"""How the key of a way in another product begins, and what ends it where leveling is left out."""

Counts = Mapping[int, PlanCounts]
"""The plans of floors in another product, by the floor's pk."""


def product_ways(basis: WorkBasis) -> tuple[tuple[Way, ...], tuple[NoWay, ...]]:
    """Return a way for each other product that floors were planned in, and those that can't be."""
    job, zones, takes = basis.job, list(basis.plans), basis.takes
    planned, refused = _planned(zones)
    kept = alternatives_kept(zones)
    products = job.company.products.in_bulk([*planned, *kept, *refused])
    ways: list[Way] = []
    without: list[NoWay] = []
    for pk in dict.fromkeys([*planned, *kept]):
        plans = _takeable(job, kept.get(pk, ()), planned.get(pk, {}))
        floors = [zone for zone in zones if zone in plans or zone.pk in planned.get(pk, {})]
        if faults := _faults(floors, products[pk], plans):
            without.append(NoWay(title=str(products[pk]), reason=faults[0].sentence))
            continue
        otherwise = unchanged if plans else _in_product(products[pk], floors, planned.get(pk, {}))
        if floors:
            way = _way(products[pk], floors, otherwise, whole=len(floors) == len(zones))
            way = replace(way, plans=plans, cautions=_on_site(basis, floors, products[pk]))
            ways += _with_and_without_leveling(way, floors, products[pk], takes)
    for pk, zone in refused.items():
        if pk not in planned and pk not in kept:
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


def _takeable(
    job: Job, others: Sequence[PlannedOtherwise], counts: Counts
) -> dict[FloorZone, FloorPlan]:
    """Return floors with their plans in a product, where acceptance could take them all.

    Nothing where a floor has only its counts, or where stairs are covered in a product, named for
    them, that no floor would be in then.
    """
    in_it = [other.zone.pk for other in others]
    if set(counts) - set(in_it) or job.stairs.filter(product__zones__in=in_it).exists():
        return {}
    return {other.zone: other.plan for other in others}


def _faults(
    zones: Sequence[FloorZone], product: Product, plans: Mapping[FloorZone, FloorPlan]
) -> list[Misfit]:
    """Return why floors may not be in a product."""
    if plans:
        return [fault for zone in plans for fault in fitness_of(zone).faults]
    return [fault for zone in zones for fault in fitness_of(zone, product).faults]


def _on_site(basis: WorkBasis, floors: Sequence[FloorZone], product: Product) -> tuple[str, ...]:
    """Return what floors in a product would wait for, or weigh, that they don't in their own."""
    now = [zone.product for zone in basis.plans]
    then = [product if zone in floors else zone.product for zone in basis.plans]
    facts = facts_in(basis.facts, then)
    known = {each.text for each in cautions_for(basis.facts, gates_of(now))}
    holds = [
        f"{each.title}. {each.text}"
        for each in cautions_for(facts, gates_of(then))
        if each.severity == "hold" and each.text not in known
    ]
    heavier = facts.carton_weight_lb > basis.facts.carton_weight_lb
    weight = f"A carton weighs {facts.carton_weight_lb.quantize(Decimal(1))} lb."
    return (*holds, weight) if heavier else tuple(holds)


def _way(product: Product, zones: Sequence[FloorZone], otherwise: Otherwise, *, whole: bool) -> Way:
    first, *_ = zones
    on = "" if whole else f" on {', '.join(zone.name for zone in zones)}"
    return Way(
        key=f"{PRODUCT}{product.pk}",
        title=f"{product}{on}",
        instead=f"{boards_beside(product, first.product)} {first.product}",
        otherwise=otherwise,
        page=_comparison(first),
    )


def _with_and_without_leveling(
    way: Way, zones: Sequence[FloorZone], product: Product, takes: JobTake
) -> list[Way]:
    """Return the floors in a product; where it is thicker, also without leveling under it."""
    first, *_ = zones
    thicker = all(product.thickness_mm > zone.product.thickness_mm for zone in zones)
    if not thicker or not any(room.leveler_bags for room in takes.rooms):
        return [way]
    without = replace(
        way,
        key=f"{way.key}{NO_LEVELER}",
        title=f"{way.title}, no leveling",
        instead=f"a thicker core in place of leveling under {first.product}",
        otherwise=lambda takes: without_leveler(way.otherwise(takes)),
        cautions=(*way.cautions, FLATNESS),
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
