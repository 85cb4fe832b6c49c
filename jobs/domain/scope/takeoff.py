"""Takeoff: plans, rooms, doorways and stairs in, quantities out.

Cartons come from the real plan with its spares, never from a percentage; what the customary 10 %
would have bought stands beside it as a fact. Every quantity says in a sentence how it was got.
"""

from decimal import Decimal

from jobs.domain.checks import ZERO
from jobs.domain.lengths import IN2_PER_FT2
from jobs.domain.quantities import MEASURED, PLANNED, Quantity, quantity
from jobs.domain.scope.inputs import (
    JobTake,
    Roll,
    StairTake,
    ZoneTake,
)
from jobs.domain.scope.rooms import doorway_quantities, room_quantities, stair_quantities, whole_job
from jobs.domain.scope.rules import (
    TakeoffRules,
    cartons_by_ten_percent,
    cartons_for,
    in_ft2,
    in_percent,
    stair_planks,
    up,
)
from jobs.domain.scope.trim import trim_stock


def take_off(job: JobTake, rules: TakeoffRules | None = None) -> tuple[Quantity, ...]:
    """Return everything the job takes, in the order zones, doorways, stairs, rooms, whole job.

    Quantities of nought are left out; no two have the same key.
    """
    used = rules or TakeoffRules()
    quantities: list[Quantity] = []
    for zone in job.zones:
        stairs = [stair for stair in job.stairs if stair.zone == zone.name]
        quantities += _zone(zone, stairs, used)
    quantities += doorway_quantities(job.doorways, used)
    for stair in job.stairs:
        quantities += stair_quantities(stair, used)
    zone_of = {room: zone.name for zone in job.zones for room in zone.rooms}
    for room in job.rooms:
        quantities += room_quantities(room, zone_of.get(room.name, ""), used)
    quantities += trim_stock(job, used)
    quantities += whole_job(job, quantities, used)
    return tuple(entry for entry in quantities if entry.amount > 0)


def _zone(zone: ZoneTake, stairs: list[StairTake], rules: TakeoffRules) -> list[Quantity]:
    return [*_cartons(zone, stairs, rules), *_underlay(zone, rules), *_laying(zone)]


def _cartons(zone: ZoneTake, stairs: list[StairTake], rules: TakeoffRules) -> list[Quantity]:
    product, plan = zone.product, zone.plan
    on_stairs = sum(stair_planks(stair, product) for stair in stairs)
    planks = plan.planks + zone.spares + on_stairs
    cartons = max(
        cartons_for(planks, product.per_carton, int(zone.attic_carton)),
        plan.cartons + int(zone.attic_carton),
    )
    customary = cartons_by_ten_percent(
        zone.area_in2, product.carton_covers_in2, rules.customary_waste
    )
    counted = f"{plan.planks} planks in the plan"
    parts = [counted, f"{zone.spares} spares" if zone.spares else ""]
    parts.append(f"{on_stairs} on the stairs" if on_stairs else "")
    sum_of_parts = ", ".join(part for part in parts if part)
    attic = ", and one for the attic" if zone.attic_carton else ""
    basis = f"{sum_of_parts}; {product.per_carton} in a carton, rounded up{attic}"
    customary_basis = (
        f"{in_ft2(zone.area_in2)} ft2 and {in_percent(rules.customary_waste)} more, "
        f"a carton covers {in_ft2(product.carton_covers_in2)} ft2"
    )
    named = {"zone": zone.name, "item": product.name}
    return [
        quantity("planks", plan.planks, counted, source=PLANNED, **named),
        quantity("cartons", cartons, basis, source=PLANNED, **named),
        quantity("cartons_by_ten_percent", customary, customary_basis, **named),
    ]


def _underlay(zone: ZoneTake, rules: TakeoffRules) -> list[Quantity]:
    product = zone.product
    rolls: list[Quantity] = []
    rolled = ZERO
    if product.pad is not None:
        rolled += zone.area_in2
        rolls.append(_rolls("pad", product.pad, zone.area_in2, zone, ""))
    if zone.barrier_wanted and product.barrier is not None:
        area = zone.area_in2 + zone.perimeter_in * rules.barrier_turn_up_in
        rolled += zone.area_in2
        turned = f", turned up {rules.barrier_turn_up_in} in at the walls"
        rolls.append(_rolls("vapour_barrier", product.barrier, area, zone, turned))
    basis = "area of the zone for each layer under the floor"
    rolls.append(quantity("pad_area", rolled / IN2_PER_FT2, basis, zone=zone.name))
    return rolls


def _rolls(code: str, roll: Roll, area: Decimal, zone: ZoneTake, more: str) -> Quantity:
    covers = (roll.width_in - roll.lap_in) * roll.length_in
    lapped = f" less a lap of {roll.lap_in} in" if roll.lap_in else ", butted"
    basis = (
        f"{in_ft2(area)} ft2{more}; a roll is {roll.width_in} in wide{lapped}, "
        f"{in_ft2(covers)} ft2, rounded up"
    )
    return quantity(code, up(area / covers), basis, zone=zone.name, item=roll.name)


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
