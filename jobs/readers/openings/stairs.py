"""Flights of stairs read from their rows: as the riser check and as the takeoff know them."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from jobs.domain.lengths import MM_PER_IN, length_words, millimeters
from jobs.domain.openings.stairs import Flight, risers_after
from jobs.domain.scope.inputs import StairTake
from jobs.models import FloorZone, Job, StairFlight
from jobs.readers.openings.doorways import inches_of
from layout.values.units import Unit, parse_length

_CENT = Decimal("0.01")
TREAD_IN, _RISER_IN = Decimal(10), Decimal("7.5")


def riser_mm(text: str, unit: str) -> Decimal:
    """Return a riser as typed in millimeters. Raises InputError where it is no length."""
    return millimeters(parse_length(text, bare=Unit(unit)).mm)


def flight_of(row: StairFlight) -> Flight:
    """Return a flight as the riser check knows it."""
    unit = row.job.unit
    return Flight(
        name=row.name,
        risers_in=tuple(inches_of(riser_mm(text, unit)) for text in row.risers),
        tread_in=None if row.tread_mm is None else inches_of(row.tread_mm),
        treads_up_in=inches_of(row.treads_raised_mm),
        below_up_in=inches_of(row.below_raised_mm),
        above_up_in=inches_of(row.above_raised_mm),
    )


def flights_of(job: Job) -> tuple[Flight, ...]:
    """Return the flights of a job."""
    return tuple(flight_of(row) for row in job.stairs.select_related("job"))


def zone_of_stair(row: StairFlight, zones: Iterable[FloorZone]) -> FloorZone | None:
    """Return the floor whose planks cover a flight: the first of its product, or None.

    A flight without a product is covered from the first floor.
    """
    for zone in zones:
        if row.product_id is None or zone.product_id == row.product_id:
            return zone
    return None


def stair_takes(job: Job, zones: Iterable[FloorZone]) -> tuple[StairTake, ...]:
    """Return the flights of a job that are covered with planks of these floors."""
    planned = list(zones)
    takes = []
    for row in job.stairs.select_related("job"):
        zone = zone_of_stair(row, planned)
        if zone is not None and row.treads:
            takes.append(_take(row, zone))
    return tuple(takes)


def _take(row: StairFlight, zone: FloorZone) -> StairTake:
    risers = risers_after(flight_of(row))
    tread = TREAD_IN if row.tread_mm is None else inches_of(row.tread_mm)
    return StairTake(
        name=row.name,
        zone=zone.name,
        treads=row.treads,
        risers=row.riser_boards,
        nosings=row.nosings,
        width_in=inches_of(row.width_mm).quantize(_CENT),
        tread_depth_in=tread.quantize(_CENT),
        riser_height_in=max(risers, default=_RISER_IN).quantize(_CENT),
    )


def riser_lines(row: StairFlight) -> list[tuple[int, str, str]]:
    """Return number, height now and height afterwards of every riser, from the bottom, in words."""
    flight, system = flight_of(row), row.job.units
    pairs = zip(flight.risers_in, risers_after(flight), strict=True)
    return [
        (
            number,
            length_words(now * MM_PER_IN, system),
            length_words(after * MM_PER_IN, system),
        )
        for number, (now, after) in enumerate(pairs, start=1)
    ]
