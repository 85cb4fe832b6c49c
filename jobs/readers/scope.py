"""Rows of the database read as the plain values that takeoff and hours are made from."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping
from dataclasses import replace
from decimal import Decimal
from functools import lru_cache
from itertools import pairwise
from typing import cast

from jobs.clock import day_of
from jobs.domain.formats import BrokenDocumentError
from jobs.domain.lengths import IN2_PER_FT2, MM_PER_IN, mm_from
from jobs.domain.quantities import LB_PER_KG
from jobs.domain.scope import inputs
from jobs.domain.scope.changed.said import rates_said, said_over
from jobs.domain.scope.inputs import (
    DoorwayTake,
    JobTake,
    ProductTake,
    Roll,
    RoomTake,
    ZoneTake,
    plan_counts,
)
from jobs.domain.scope.rates import STARTING_RATES, ProductionRate
from jobs.domain.scope.rates_used import RateUsed, kept_over, rate_used
from jobs.domain.scope.scope import (
    SCOPE,
    FrozenScope,
    ScopePlace,
    ScopeZone,
    scope_from,
)
from jobs.models import (
    BaseTreatment,
    Company,
    Doorway,
    ExistingFloor,
    FloorPlan,
    FloorZone,
    Job,
    Product,
    Rate,
    Room,
    Scope,
    SiteFacts,
    TrimKind,
)
from jobs.readers.documents import checked
from jobs.readers.old_floors.rooms import old_floor_of
from jobs.readers.openings.doorways import (
    doorways_between,
    doorways_of,
    fixing_for,
    tight_door_of,
)
from jobs.readers.openings.stairs import stair_takes
from jobs.readers.site import left_to_homeowner
from jobs.readers.stored_plan import stored_plan
from jobs.readers.trim import handled, stock_of, trim_takes
from layout.values.outline import Ring
from layout.values.request import PlanRequest

_CENT = Decimal("0.01")

# Common roll sizes; common practice, no source. Butted pad, barrier lapped 8 in.
PAD = Roll(name="Pad", width_in=Decimal(36), length_in=Decimal(400))
BARRIER = Roll(
    name="Vapor barrier", width_in=Decimal(120), length_in=Decimal(300), lap_in=Decimal(8)
)


def inches(mm: Decimal) -> Decimal:
    """Return millimeters as inches, to a hundredth."""
    return (mm / MM_PER_IN).quantize(_CENT)


def job_take(
    job: Job, plans: Mapping[FloorZone, FloorPlan], *, otherwise: Collection[FloorZone] = ()
) -> JobTake:
    """Return what is counted of ``job``: rooms in its planned zones, doorways, zones.

    ``otherwise``: those of the zones that are not in the product that their rows name.
    """
    site = SiteFacts.objects.filter(job=job).first()
    rooms = list(job.rooms.filter(zone__in=plans).prefetch_related("trim_runs__room"))
    inside = {room.pk for room in rooms}
    every = doorways_between(doorways_of(job), otherwise)
    doorways = [doorway for doorway in every if doorway.room_id in inside]
    return JobTake(
        rooms=tuple(room_take(room, site) for room in rooms),
        zones=tuple(zone_take(zone, plan) for zone, plan in plans.items()),
        doorways=tuple(doorway_take(doorway, site) for doorway in doorways),
        stairs=stair_takes(job, plans),
        trim_stock_in=stock_of(job),
    )


def room_take(room: Room, site: SiteFacts | None) -> RoomTake:
    """Return a room's area, perimeter, base and what stands in it."""
    area, around = _ring_sizes(room.outline, room.job.unit)
    holes = sum((_ring_sizes(hole["ring"], room.job.unit)[0] for hole in room.holes), Decimal(0))
    base, shoe = (_put_on(room, kind) for kind in (TrimKind.BASE, TrimKind.SHOE))
    added = [run.length_mm for run in room.trim_runs.all() if run.is_added and not run.left_out]
    longest = around + inches(sum(added, Decimal(0)))
    old = old_floor_of(room, site) if site and site.tear_out else ExistingFloor.NONE
    return RoomTake(
        name=room.name,
        area_in2=area - holes,
        perimeter_in=longest,
        kind=cast(inputs.RoomKind, room.moisture),
        base_run_in=min(inches(base), longest),
        shoe_run_in=min(inches(shoe), longest),
        trim=trim_takes(room),
        base_treatment=_base_of(room, base),
        shoe_treatment="replace" if room.shoe or shoe else "none",
        old_floor=cast(inputs.OldFloor, "other" if old == ExistingFloor.UNKNOWN else old),
        furniture=cast(inputs.Furniture, room.furniture),
        toilets=room.toilets,
        appliances=room.appliances,
        leveler_bags=room.leveler_bags,
    )


def zone_take(zone: FloorZone, plan: FloorPlan) -> ZoneTake:
    """Return a floor zone with the counts of its plan."""
    stored = stored_plan(plan)
    plan_form, request_form = stored.plan_form, stored.request_form
    _, around = _ring_sizes(request_form["zone"]["outline"], request_form["unit"])
    outline, holes = rings_of(stored.request)
    scale = MM_PER_IN if plan_form["unit"] == "mm" else Decimal(1)
    return ZoneTake(
        name=zone.name,
        rooms=tuple(room.name for room in zone.rooms.all()),
        product=product_take(zone.product, pad=zone.pad, barrier=zone.barrier),
        plan=plan_counts(plan_form),
        area_in2=(Decimal(str(plan_form["totals"]["floor_area"])) / (scale * scale)).quantize(
            _CENT
        ),
        perimeter_in=around,
        outline=outline,
        holes=holes,
        spares=zone.spares,
        attic_carton=zone.attic_carton,
        barrier_wanted=zone.barrier,
        on_hand=zone.stock_planks,
    )


def rings_of(request: PlanRequest) -> tuple[Ring, tuple[Ring, ...]]:
    """Return the outline of a floor and its holes in inches, from what its plan was made for."""
    scale = float(mm_from(1, request.unit) / MM_PER_IN)
    rings = [request.zone.outline, *(hole.ring for hole in request.zone.holes)]
    outline, *holes = (tuple((x * scale, y * scale) for x, y in ring) for ring in rings)
    return outline, tuple(holes)


def product_take(product: Product, *, pad: bool, barrier: bool) -> ProductTake:
    """Return a product as the takeoff knows it; no separate pad under an attached one."""
    length = inches(product.length_mm)
    widths = tuple((inches(width), count) for width, count in product.sizes)
    across = sum((width * count for width, count in widths), Decimal(0))
    return ProductTake(
        name=product.name,
        length_in=length,
        width_in=max(width for width, _ in widths),
        per_carton=product.carton_boards,
        carton_area_in2=length * across if product.more_boards else None,
        widths=widths if product.more_boards else (),
        carton_weight_lb=((product.carton_weight_kg or Decimal(0)) * LB_PER_KG).quantize(_CENT),
        attached_pad=product.attached_pad,
        pad=PAD if pad and not product.attached_pad else None,
        barrier=BARRIER if barrier else None,
        acclimatize_hours=Decimal(product.acclimate_hours),
    )


def doorway_take(doorway: Doorway, site: SiteFacts | None) -> DoorwayTake:
    """Return a doorway's width, treatment, fixing and the work around it."""
    return DoorwayTake(
        name=_doorway_name(doorway),
        width_in=inches(doorway.width_mm),
        treatment=cast(inputs.Treatment, doorway.treatment),
        zone=doorway.room.zone.name if doorway.room.zone else "",
        fixing=fixing_for(doorway, site),
        casings=doorway.casings,
        doors_off=doorway.doors_off,
        doors_trimmed=1 if tight_door_of(doorway, site) else 0,
        room=doorway.room.name,
    )


def _doorway_name(doorway: Doorway) -> str:
    return f"{doorway.room.name}, wall {doorway.wall + 1}, {doorway.pk}"


def agreed_scope_of(job: Job) -> FrozenScope | None:
    """Return what ``job`` was agreed on; None where nothing is, or it can't be read."""
    if job.agreed_scope is None:
        return None
    try:
        return scope_value(job.agreed_scope)
    except BrokenDocumentError:
        return None


def places_of(job: Job) -> tuple[ScopePlace, ...]:
    """Return what quantities call their rooms, doorways and stairs, with keys that stay."""
    rooms = [(f"room-{room.pk}", room.name) for room in job.rooms.all()]
    doorways = [(f"doorway-{entry.pk}", _doorway_name(entry)) for entry in doorways_of(job)]
    stairs = [(f"stair-{row.pk}", row.name) for row in job.stairs.all()]
    named = (*rooms, *doorways, *stairs)
    return tuple(ScopePlace(key=key, name=name) for key, name in named)


def scope_zone(zone: FloorZone, plan: FloorPlan) -> ScopeZone:
    """Return a floor of the scope, tied to its plan by digest."""
    counts = plan_counts(stored_plan(plan).plan_form)
    return ScopeZone(
        name=zone.name,
        rows=counts.rows,
        area_ft2=(counts.area_in2 / IN2_PER_FT2).quantize(_CENT),
        plan_sha256=plan.document.sha256,
        product=zone.product.name,
        key=f"floor-{zone.pk}",
    )


def rates_of(job: Job, agreed: FrozenScope | None = None) -> tuple[RateUsed, ...]:
    """Return the rates that ``job`` is reckoned with: those it was agreed on, else today's.

    A scope that didn't keep its rates tells them in the sentences of its tasks.
    """
    today = rates_used(job.company)
    if agreed is None:
        return today
    if agreed.rates:
        return kept_over(today, agreed.rates)
    return said_over(today, rates_said(agreed))


def rates_used(company: Company) -> tuple[RateUsed, ...]:
    """Return the company's whole set of production rates with the days on which they were set."""
    rows = company.rates.all()
    since = {(row.task, row.driver, row.item): day_of(row.changed_at, company) for row in rows}
    return tuple(
        rate_used(rate, since[key].isoformat() if (key := rate_key(rate)) in since else "")
        for rate in company_rates(company)
    )


def company_rates(company: Company) -> tuple[ProductionRate, ...]:
    """Return the starting rates, each replaced by the company's own one, and its further ones."""
    rates = {rate_key(rate): rate for rate in STARTING_RATES}
    set_rates = (_rate(row) for row in company.rates.all())
    return tuple((rates | {rate_key(rate): rate for rate in set_rates}).values())


def rate_key(rate: ProductionRate) -> tuple[str, str, str]:
    """Return what tells a rate from every other: task, driver, item."""
    return rate.task_code, rate.driver, rate.item


def _rate(row: Rate) -> ProductionRate:
    return ProductionRate(
        task_code=row.task,
        driver=row.driver,
        hours=row.hours,
        per=row.per,
        item=row.item,
        source=row.source,
        jobs=row.jobs,
    )


def _put_on(room: Room, kind: str) -> Decimal:
    """Return the length of a kind of trim that is put on, new or the old one again, in mm."""
    runs = [run for run in room.trim_runs.all() if run.kind == kind]
    on = handled(runs, "reinstall", "replace")
    return sum((run.length_mm for run in on), Decimal(0))


def _base_of(room: Room, put_on_mm: Decimal) -> inputs.BaseTreatment:
    """Return what happens to the base of a room; where a run differs, base is put on there."""
    put_on = room.base in (BaseTreatment.REINSTALL, BaseTreatment.REPLACE)
    if put_on_mm and not put_on:
        return "replace"
    return cast(inputs.BaseTreatment, str(room.base))


def _ring_sizes(ring: list[list[float]], unit: str) -> tuple[Decimal, Decimal]:
    """Return the area in square inches and the perimeter in inches of a ring in ``unit``."""
    closed = [*ring, ring[0]]
    twice = sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise(closed))
    around = sum(math.dist(a, b) for a, b in pairwise(closed))
    scale = MM_PER_IN if unit == "mm" else Decimal(1)
    area = Decimal(repr(abs(twice) / 2)) / (scale * scale)
    return area.quantize(_CENT), (Decimal(repr(around)) / scale).quantize(_CENT)


def scope_value(scope: Scope) -> FrozenScope:
    """Return what a frozen scope says. What the homeowner does an old one leaves to its job to say.

    Raises BrokenDocumentError where it can't be read.
    """
    text, stated = scope.document.text, scope.document.format
    value = checked(scope.document, SCOPE, lambda: _scope_of(text, stated))
    if value.left_to_homeowner is not None:
        return value
    return replace(value, left_to_homeowner=left_to_homeowner(scope.job))


@lru_cache(maxsize=64)
def _scope_of(text: str, stated: int) -> FrozenScope:
    """Return the scope of a stored text: the pages of a job ask for the same one over and over."""
    return scope_from(SCOPE.read(text, stated=stated))
