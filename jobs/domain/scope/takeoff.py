"""Takeoff: plans, rooms, doorways and stairs in, quantities out.

What is bought is counted by the job, and by product where it differs: flooring, pad, barrier,
sticks. Work is counted where it is done: by floor and by room. Every quantity says in a sentence
how it was got.
"""

from jobs.domain.lengths import IN2_PER_FT2
from jobs.domain.quantities import MEASURED, PLANNED, Quantity, quantity
from jobs.domain.scope.flooring import by_product, flooring
from jobs.domain.scope.inputs import JobTake, ZoneTake
from jobs.domain.scope.rooms import (
    doorway_quantities,
    nosing_stock,
    room_quantities,
    stair_quantities,
    whole_job,
)
from jobs.domain.scope.rules import TakeoffRules
from jobs.domain.scope.trim import trim_stock
from jobs.domain.scope.underlay import pad_area, rolls


def take_off(job: JobTake, rules: TakeoffRules | None = None) -> tuple[Quantity, ...]:
    """Return everything the job takes: products, rolls, zones, doorways, stairs, rooms, the rest.

    Quantities of nought are left out; no two have the same key.
    """
    used = rules or TakeoffRules()
    products = by_product(job)
    quantities: list[Quantity] = []
    for count in products:
        quantities += flooring(count, used)
    quantities += rolls(job, used)
    for zone in job.zones:
        quantities += [pad_area(zone, used), *_laying(zone)]
    quantities += doorway_quantities(job.doorways, used)
    for stair in job.stairs:
        quantities += stair_quantities(stair)
    quantities += nosing_stock(products, job.stairs, used)
    zone_of = {room: zone.name for zone in job.zones for room in zone.rooms}
    for room in job.rooms:
        quantities += room_quantities(room, zone_of.get(room.name, ""), used)
    quantities += trim_stock(job, used)
    quantities += whole_job(job, products, quantities, used)
    return tuple(entry for entry in quantities if entry.amount > 0)


def _laying(zone: ZoneTake) -> list[Quantity]:
    plan = zone.plan
    counts = ("pieces", "crosscuts", "rips", "notches", "trapped", "rows")
    area = quantity(
        "floor_area",
        zone.area_in2 / IN2_PER_FT2,
        "area of the zone",
        source=MEASURED,
        zone=zone.name,
    )
    counted = [
        quantity(code, getattr(plan, code), "counted", source=PLANNED, zone=zone.name)
        for code in counts
    ]
    return [area, *counted]
