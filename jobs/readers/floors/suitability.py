"""Whether the product of a floor may lie there, from the rows of product, site and rooms."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

from jobs.domain.checks import BadValueError
from jobs.domain.floors.rule_sources import rule_source
from jobs.domain.floors.suitability import Demands, Fitness, Misfit, SiteConditions, fitness
from jobs.domain.site.moisture import METHODS, readings_of
from jobs.models import ExistingFloor, FloorZone, Job, Product, SiteFacts, Subfloor
from jobs.readers.together import of_jobs
from jobs.readers.together.round_trip import KindRows, rows_of

KINDS = (of_jobs.SITES, of_jobs.ROOMS)
"""The rows that say what a place is like."""

_RULES = ("laid_over", "wettest", "heated_floor", "separate_pad")
_STAYS = {
    ExistingFloor.CARPET: "carpet",
    ExistingFloor.RESILIENT: "resilient",
    ExistingFloor.TILE: "tile",
    ExistingFloor.WOOD: "wood floor",
    ExistingFloor.LAMINATE: "laminate",
}
_BELOW = {Subfloor.SLAB: "slab", Subfloor.WOOD: "wood subfloor"}


def fitness_of(zone: FloorZone, product: Product | None = None) -> Fitness:
    """Return the faults and notes of a floor, with its own product or another one."""
    return fitness(asked_by(product or zone.product), _places([zone])[zone.pk])


def faults_by_floor(
    zones: Sequence[FloorZone], rows: KindRows | None = None
) -> dict[int, tuple[Misfit, ...]]:
    """Return the faults of each of these floors by its pk, in one query however many floors.

    ``rows``: those of `KINDS` where they are at hand.
    """
    places = _places(zones, rows)
    return {zone.pk: fitness(asked_by(zone.product), places[zone.pk]).faults for zone in zones}


def refuse_unfit(job: Job) -> None:
    """Refuse to go on to a price with a floor whose product may not lie there.

    Raises BadValueError naming the floor, the first fault and what would be accepted.
    """
    zones = list(job.zones.select_related("product"))
    faults = faults_by_floor(zones)
    for zone in zones:
        for fault in faults[zone.pk]:
            accepted = f"{fault.accepted} ({fault.source})"
            raise BadValueError(field=f"floor {zone.name}", value=fault.text, accepted=accepted)


def asked_by(product: Product) -> Demands:
    """Return what a product asks of the place it lies in."""
    limits = [each.limit_field for each in METHODS.values() if each.limit_field]
    return Demands(
        product=product.name,
        laid_over=tuple(product.laid_over),
        wettest=product.wettest,
        heated_floor=product.heated_floor,
        separate_pad=product.separate_pad,
        attached_pad=product.attached_pad,
        limits={rule: getattr(product, rule) for rule in limits},
        sources={rule: rule_source(product, rule) for rule in (*_RULES, *limits)},
    )


def _places(zones: Sequence[FloorZone], rows: KindRows | None = None) -> dict[int, SiteConditions]:
    """Return what is known of the place of each floor, by the floor's pk.

    A missing sheet is one with nothing known.
    """
    if rows is None:
        rows = rows_of({zone.job_id for zone in zones}, *KINDS)
    sites = {site.job_id: site for site in rows[of_jobs.SITES]}
    rooms: dict[int, dict[str, str]] = defaultdict(dict)
    for room in rows[of_jobs.ROOMS]:
        if room.zone_id is not None:
            rooms[room.zone_id][room.name] = room.moisture
    return {
        zone.pk: _place(zone, sites.get(zone.job_id) or SiteFacts(), rooms[zone.pk])
        for zone in zones
    }


def _place(zone: FloorZone, site: SiteFacts, rooms: dict[str, str]) -> SiteConditions:
    return SiteConditions(
        ground=_ground(site),
        heated=site.heated_floor,
        pad=zone.pad,
        rooms=rooms,
        readings=readings_of(site.readings),
    )


def _ground(site: SiteFacts) -> str:
    """Return what the floor lies on: the old floor where it stays, else the subfloor."""
    if site.existing_floor == ExistingFloor.UNKNOWN and not site.tear_out:
        return ""
    if not site.tear_out and site.existing_floor in _STAYS:
        return _STAYS[ExistingFloor(site.existing_floor)]
    return _BELOW.get(Subfloor(site.subfloor), "")
