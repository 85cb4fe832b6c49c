"""The cautions of a job, from the rows that hold its site facts, rooms and doorways."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import cast

from shapely.geometry import Polygon

from jobs.domain.lengths import IN2_PER_FT2, MM_PER_IN
from jobs.domain.quantities import LB_PER_KG
from jobs.domain.site.cautions import cautions_for, holds_from
from jobs.domain.site.facts import (
    Caution,
    KnownFloor,
    KnownSubfloor,
    LevelChange,
    MoistureReading,
    VisitFacts,
)
from jobs.domain.site.moisture import METHODS, readings_of, standings
from jobs.domain.tasks import GOES_ALONG
from jobs.models import Doorway, FloorKind, Job, Product, Room, SiteFacts
from jobs.readers.moisture.gates import moisture_gates
from jobs.readers.old_floors.rooms import on_slab, room_facts
from jobs.readers.openings.doorways import (
    doorways_of,
    inches_of,
    place_of_doorway,
    step_of,
    step_words,
    tight_door_of,
    trapped_of,
)
from jobs.readers.openings.stairs import flights_of

_CENT = Decimal("0.01")

BEYOND: dict[str, str] = {
    FloorKind.CARPET: "the carpet",
    FloorKind.TILE: "the tile",
    FloorKind.WOOD: "the wood floor",
    FloorKind.SLAB: "the bare concrete",
    FloorKind.OUTSIDE: "the sill",
}
"""What lies beyond an opening, as a sentence names it."""

OPEN_QUESTIONS = frozenset({"asbestos", "lead"})
"""Holds under which nothing is left to the homeowner."""


def cautions_of(job: Job) -> tuple[Caution, ...]:
    """Return the cautions and hold points of ``job``, holds first."""
    return cautions_for(site_facts(job), moisture_gates([job.pk]).get(job.pk))


def holds_of(job: Job) -> tuple[tuple[str, str], ...]:
    """Return pairs of task code and hold point, cleared ones too: a scope names them all."""
    return holds_from(cautions_of(job))


def cleared_holds(job: Job) -> frozenset[str]:
    """Return the codes of the hold points that a named person has cleared."""
    return frozenset(job.clearances.values_list("code", flat=True))


def open_questions(job: Job) -> dict[str, tuple[str, ...]]:
    """Return the open asbestos and lead questions of a job by the task that they stop."""
    still_open = OPEN_QUESTIONS - cleared_holds(job)
    by_task: dict[str, list[str]] = defaultdict(list)
    for task, hold in holds_of(job):
        if hold in still_open:
            by_task[task].append(hold)
    return {task: tuple(holds) for task, holds in by_task.items()}


def homeowners_codes(job: Job) -> tuple[str, ...]:
    """Return the codes of the tasks that were left to the homeowner, as they stand now."""
    return tuple(Job.objects.values_list("left_to_homeowner", flat=True).get(pk=job.pk))


def left_to_homeowner(job: Job) -> tuple[str, ...]:
    """Return the tasks that the homeowner does; what a question has come to stand on stays ours."""
    codes = homeowners_codes(job)
    if not codes:
        return ()
    barred = set(open_questions(job))
    barred |= {along for code in barred for along in GOES_ALONG.get(code, ())}
    return tuple(code for code in codes if code not in barred)


def site_facts(job: Job) -> VisitFacts:
    """Return what is known of the site of ``job``; a missing sheet is one with nothing known."""
    row = SiteFacts.objects.filter(job=job).first() or SiteFacts(job=job)
    doorways, rooms = doorways_of(job), _rooms_of(job)
    products = [zone.product for zone in job.zones.select_related("product")]
    tight = (tight_door_of(doorway, row) for doorway in doorways)
    trapped = (trapped_of(room) for room in rooms)
    return VisitFacts(
        year_built=row.year_built,
        existing_floor=cast(KnownFloor, row.existing_floor),
        floor_year=row.floor_year,
        tear_out=row.tear_out,
        subfloor=cast(KnownSubfloor, row.subfloor),
        slab_ft2=_slab_ft2(row, job, rooms),
        readings=_readings(row, products),
        accessible_route=row.accessible_route,
        heated_floor=row.heated_floor,
        painted_ft2_per_room=row.painted_ft2_per_room,
        fire_door=row.fire_door,
        gas_appliance=row.gas_appliance,
        toilets=sum(room.toilets for room in rooms),
        grinding=row.grinding,
        level_changes=level_changes(doorways),
        tight_doors=tuple(door for door in tight if door),
        trapped_appliances=tuple(one for one in trapped if one),
        stairs=flights_of(job),
        flights=row.flights,
        carton_weight_lb=_heaviest(products),
        rooms=tuple(room_facts(room, row) for room in rooms),
    )


def _rooms_of(job: Job) -> list[Room]:
    rooms = job.rooms.select_related("job", "zone__product")
    return list(rooms.prefetch_related("trim_runs"))


def facts_in(facts: VisitFacts, products: Sequence[Product]) -> VisitFacts:
    """Return what is known of a site, its floors in these products in place of their own."""
    limits = _limits(products)
    readings = tuple(replace(one, limit=limits.get(one.code)) for one in facts.readings)
    return replace(facts, readings=readings, carton_weight_lb=_heaviest(products))


def moisture_limits(job: Job) -> dict[str, Decimal]:
    """Return the lowest moisture limit by method among the products of the job's floors."""
    return _limits([zone.product for zone in job.zones.select_related("product")])


def _limits(products: Sequence[Product]) -> dict[str, Decimal]:
    limits: dict[str, Decimal] = {}
    for code, method in METHODS.items():
        limits_of_each = [getattr(product, method.limit_field, None) for product in products]
        known = [limit for limit in limits_of_each if limit is not None]
        if known:
            limits[code] = min(known)
    return limits


def moisture_sentence(job: Job, site: SiteFacts) -> str:
    """Return how the moisture readings of a job stand; empty where there is none."""
    stands = standings(
        readings_of(site.readings), limits=moisture_limits(job), slab_ft2=slab_ft2(job)
    )
    return " ".join(
        f"{METHODS[stand.method].label}: {stand.sentence}"
        for stand in stands
        if stand.method != "boards"
    )


def slab_ft2(job: Job) -> Decimal:
    """Return the floor area of the job's rooms in square feet where they lie on a slab, else 0."""
    row = SiteFacts.objects.filter(job=job).first()
    return Decimal(0) if row is None else _slab_ft2(row, job, job.rooms.all())


def room_ft2(room: Room) -> Decimal:
    """Return the floor area of a room in square feet."""
    scale = MM_PER_IN**2 if room.job.unit == "mm" else Decimal(1)
    area = Polygon(room.outline).area if room.outline else 0.0
    return (Decimal(repr(area)) / scale / IN2_PER_FT2).quantize(_CENT)


def _slab_ft2(row: SiteFacts, job: Job, rooms: Iterable[Room]) -> Decimal:
    scale = MM_PER_IN**2 if job.unit == "mm" else Decimal(1)
    area = sum(Polygon(room.outline).area for room in on_slab(rooms, row) if room.outline)
    return (Decimal(repr(float(area))) / scale / IN2_PER_FT2).quantize(_CENT)


def _readings(row: SiteFacts, products: Sequence[Product]) -> tuple[MoistureReading, ...]:
    limits = _limits(products)
    return tuple(
        MoistureReading(
            method=METHODS[one.method].label,
            value=one.value,
            limit=limits.get(one.method),
            where=one.where,
            code=one.method,
            on=one.on,
        )
        for one in readings_of(row.readings)
    )


def level_changes(doorways: list[Doorway]) -> tuple[LevelChange, ...]:
    """Return the doorways at which floors meet at different heights."""
    return tuple(
        LevelChange(
            where=place_of_doorway(doorway),
            rise_in=abs(inches_of(step_of(doorway))),
            said=step_words(doorway),
            beyond=_beyond(doorway),
            strip=str(doorway.treatment),
        )
        for doorway in doorways
        if step_of(doorway)
    )


def _beyond(doorway: Doorway) -> str:
    """Return what lies beyond a doorway, as a sentence names it."""
    if doorway.beyond is not None:
        return f"the floor of {doorway.beyond.name}"
    return BEYOND.get(str(doorway.beyond_kind), "the floor beyond")


def heaviest_carton(job: Job) -> Decimal:
    """Return what the heaviest carton of a job's floors weighs, in pounds; 0: not known."""
    return _heaviest([zone.product for zone in job.zones.select_related("product")])


def _heaviest(products: Sequence[Product]) -> Decimal:
    weights = [product.carton_weight_kg for product in products]
    heaviest = max((weight for weight in weights if weight), default=Decimal(0))
    return (heaviest * LB_PER_KG).quantize(_CENT)
