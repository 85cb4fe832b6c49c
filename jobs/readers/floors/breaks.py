"""Floors that run farther than their product may: by how much, and where to break them."""

from __future__ import annotations

from dataclasses import dataclass

from jobs.domain.floors.breaks import Break, Limits, Link, Reach, best_break, reach_of
from jobs.domain.floors.place import opening
from jobs.domain.floors.rule_sources import rule_source
from jobs.domain.lengths import core_length_words, length_words, mm_in
from jobs.models import Doorway, FloorZone, Treatment
from jobs.readers.floors.floors import place_of, placed_room
from jobs.readers.openings.openings import near_side
from layout.planner.proposal import halls_of, proposed_direction
from layout.values.outline import Ring, Zone, main_directions
from layout.values.tolerances import LENGTH_TOLERANCE
from layout.values.units import INCH


@dataclass(frozen=True, slots=True, kw_only=True)
class TooFar:
    """What is said of a floor that runs too far: by how much, what to do; the doorway to break at.

    ``doorway`` is None where no doorway of the floor helps.
    """

    said: tuple[str, ...]
    advice: str
    doorway: Doorway | None = None


def too_far(zone: FloorZone, joined: Zone) -> TooFar | None:
    """Return what is said of a floor beyond its product's limits; None where it keeps them.

    ``joined`` is the floor as the layout core knows it. Where the direction is still to be
    compared, the longest wall is taken for it.
    """
    unit, limits = zone.job.unit, limits_of(zone)
    turn = direction_of(zone, joined)
    whole = reach_of([joined.outline], turn)
    said = tuple(_said(zone, whole, limits))
    if not said:
        return None
    links = links_of(zone)
    best = best_break(rings_of(zone), links, limits, direction_deg=turn, unit=unit)
    if best is None:
        advice = (
            "No doorway of this floor breaks it shorter. Accepted: a T-molding across the floor "
            "where its maker allows one, another direction, or a product with a longer run."
        )
        return TooFar(said=said, advice=advice)
    doorway = Doorway.objects.select_related("room", "beyond").get(pk=best.key)
    return TooFar(said=said, advice=_advice(doorway, best, unit), doorway=doorway)


MOST_UNBROKEN_IN = 40 * 12
"""A floating floor is broken about every 30 to 40 ft; common practice, no source."""


def laying_sentences(zone: FloorZone, joined: Zone) -> tuple[str, ...]:
    """Return which way a lead would lay a floor, and where no limit of a long one is known."""
    unit = zone.job.unit
    where = "down its longest hall" if halls_of(joined, unit) else "along its longest wall"
    turn = proposed_direction(joined, unit)
    way = f"A lead would lay the rows {where}, at {turn:g}° (common practice, no source)."
    reach, limits = reach_of([joined.outline], direction_of(zone, joined)), limits_of(zone)
    farthest = max(reach.along, reach.across)
    is_long = farthest > MOST_UNBROKEN_IN * INCH[unit] + LENGTH_TOLERANCE[unit]
    if not is_long or (limits.along, limits.across) != (None, None):
        return (way,)
    long = (
        f"The floor reaches {core_length_words(farthest, unit)} and {zone.product} has no limit "
        "noted: a floating floor is broken about every 30 to 40 ft, at a doorway with a T-molding "
        "(common practice, no source). Look up what its maker says."
    )
    return way, long


def limits_of(zone: FloorZone) -> Limits:
    """Return how far a product may run; a width that is not said is taken to be the length's."""
    product, unit = zone.product, zone.job.unit
    along, across = product.max_run_mm, product.max_run_width_mm or product.max_run_mm
    return Limits(
        along=mm_in(along, unit) if along is not None else None,
        across=mm_in(across, unit) if across is not None else None,
    )


def direction_of(zone: FloorZone, joined: Zone) -> float:
    """Return the direction of the rows; the longest main wall's where it is to be compared."""
    if zone.direction_deg is not None:
        return float(zone.direction_deg)
    return float(next(iter(main_directions(joined.outline)), 0.0))


def rings_of(zone: FloorZone) -> dict[str, Ring]:
    """Return the rooms of a floor where they lie, by name, in order."""
    rooms = list(zone.rooms.select_related("job").order_by("order", "pk"))
    alone = len(rooms) == 1
    return {room.name: placed_room(room, place_of(room, alone=alone)).ring for room in rooms}


def links_of(zone: FloorZone) -> list[Link]:
    """Return the doorways between two rooms of a floor through which it is carried."""
    unit, rings = zone.job.unit, rings_of(zone)
    carried = Doorway.objects.filter(treatment=Treatment.CARRY).select_related("room", "beyond")
    links = []
    for doorway in carried.filter(room__zone=zone, beyond__zone=zone):
        gap = near_side(doorway).gap(unit)
        ring = rings[doorway.room.name]
        edge = opening(ring, wall=gap.wall, offset=gap.offset, width=gap.width)
        links.append(
            Link(
                key=doorway.pk,
                room=doorway.room.name,
                beyond=doorway.beyond.name if doorway.beyond else "",
                ring=edge.ring(max(mm_in(doorway.depth_mm, unit), LENGTH_TOLERANCE[unit])),
            )
        )
    return links


def _said(zone: FloorZone, whole: Reach, limits: Limits) -> list[str]:
    unit, near, product = zone.job.unit, LENGTH_TOLERANCE[zone.job.unit], zone.product
    ways = (
        (whole.along, limits.along, "along the rows", "max_run_mm"),
        (whole.across, limits.across, "across the rows", "max_run_width_mm"),
    )
    said = []
    for reach, most, way, field in ways:
        if most is None or reach <= most + near:
            continue
        named = field if getattr(product, field) is not None else "max_run_mm"
        limit = length_words(getattr(product, named), zone.job.units)
        said.append(
            f"The floor reaches {core_length_words(reach, unit)} {way}; {product} is laid up to "
            f"{limit} without a break ({rule_source(product, named)})."
        )
    return said


def _advice(doorway: Doorway, best: Break, unit: str) -> str:
    rest = " and ".join(core_length_words(max(r.along, r.across), unit) for r in best.reaches)
    more = "" if best.enough else " That is not enough yet; the parts are looked at again then."
    return (
        f"Break it with a T-molding in the doorway from {doorway.room} to {doorway.beyond}: "
        f"{', '.join(best.beyond)} then {'is a floor' if len(best.beyond) == 1 else 'are one'} "
        f"of its own, and the parts reach {rest}.{more}"
    )
