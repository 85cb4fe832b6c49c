"""Whether the product of a floor may lie there, from the rows of product, site and rooms."""

from __future__ import annotations

from jobs.domain.checks import BadValueError
from jobs.domain.floors.rule_sources import rule_source
from jobs.domain.floors.suitability import Demands, Fitness, Misfit, SiteConditions, fitness
from jobs.domain.site.moisture import METHODS, readings_of
from jobs.models import ExistingFloor, FloorZone, Job, Product, SiteFacts, Subfloor

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
    return fitness(asked_by(product or zone.product), found_at(zone))


def faults_of(zone: FloorZone) -> tuple[Misfit, ...]:
    """Return why the product of a floor may not lie there; empty where it may."""
    return fitness_of(zone).faults


def refuse_unfit(job: Job) -> None:
    """Refuse to go on to a price with a floor whose product may not lie there.

    Raises BadValueError naming the floor, the first fault and what would be accepted.
    """
    for zone in job.zones.select_related("product"):
        for fault in faults_of(zone):
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


def found_at(zone: FloorZone) -> SiteConditions:
    """Return what is known of the place of a floor; a missing sheet is one with nothing known."""
    site = SiteFacts.objects.filter(job=zone.job_id).first() or SiteFacts(job=zone.job)
    return SiteConditions(
        ground=_ground(site),
        heated=site.heated_floor,
        pad=zone.pad,
        rooms={room.name: room.moisture for room in zone.rooms.all()},
        readings=readings_of(site.readings),
    )


def _ground(site: SiteFacts) -> str:
    """Return what the floor lies on: the old floor where it stays, else the subfloor."""
    if site.existing_floor == ExistingFloor.UNKNOWN and not site.tear_out:
        return ""
    if not site.tear_out and site.existing_floor in _STAYS:
        return _STAYS[ExistingFloor(site.existing_floor)]
    return _BELOW.get(Subfloor(site.subfloor), "")
