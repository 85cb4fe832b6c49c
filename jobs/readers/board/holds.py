"""The open holds of many jobs, in one round trip.

What a hold depends on is read here for all of them: sheets of the site, flights of stairs, moisture
limits of the products. A test holds the answers against those of one job (`open_holds_of`).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import cast

from jobs.domain.openings.stairs import Flight
from jobs.domain.site.cautions import cautions_for
from jobs.domain.site.facts import (
    Caution,
    KnownFloor,
    KnownSubfloor,
    MoistureReading,
    SiteRoom,
    VisitFacts,
)
from jobs.domain.site.moisture import METHODS, readings_of
from jobs.models import SiteFacts
from jobs.readers.moisture import gates
from jobs.readers.moisture.gates import moisture_gates
from jobs.readers.old_floors import rooms as of_rooms
from jobs.readers.openings.stairs import flight_of
from jobs.readers.together import of_jobs
from jobs.readers.together.round_trip import KindRows, rows_of

KINDS = (of_jobs.SITES, of_jobs.STAIRS, of_jobs.CLEARANCES, *gates.KINDS, *of_rooms.KINDS)
"""The rows that holds depend on."""

OpenHolds = dict[int, dict[str, Caution]]
"""By the key of a job: the holds that nobody cleared, by code."""


def open_holds_by_job(jobs: Sequence[int], rows: KindRows | None = None) -> OpenHolds:
    """Return the open holds of every job that has any, by the job's key.

    ``rows``: those of `KINDS` where they are at hand.
    """
    if rows is None:
        rows = rows_of(jobs, *KINDS)
    limits, flights = _limits(rows), _flights(rows)
    of_moisture = moisture_gates(jobs, rows)
    cleared = {(row.job_id, row.code) for row in rows[of_jobs.CLEARANCES]}
    holds: OpenHolds = {}
    sheets = {sheet.job_id: sheet for sheet in rows[of_jobs.SITES]}
    houses = {job: sheets.get(job) or SiteFacts(job_id=job) for job in jobs}
    rooms = of_rooms.rooms_by_job(houses, rows)
    for job, sheet in houses.items():
        facts = _facts(sheet, limits.get(job, {}), flights.get(job, ()), rooms.get(job, ()))
        still_open = {
            caution.code: caution
            for caution in cautions_for(facts, of_moisture.get(job))
            if caution.severity == "hold" and (job, caution.code) not in cleared
        }
        if still_open:
            holds[job] = still_open
    return holds


def _facts(
    sheet: SiteFacts,
    limits: Mapping[str, Decimal],
    flights: Sequence[Flight],
    rooms: tuple[SiteRoom, ...],
) -> VisitFacts:
    """Return what holds depend on; what only cautions depend on is left out."""
    return VisitFacts(
        year_built=sheet.year_built,
        existing_floor=cast(KnownFloor, sheet.existing_floor),
        floor_year=sheet.floor_year,
        tear_out=sheet.tear_out,
        subfloor=cast(KnownSubfloor, sheet.subfloor),
        readings=tuple(
            MoistureReading(
                method=METHODS[one.method].label,
                value=one.value,
                limit=limits.get(one.method),
                where=one.where,
                code=one.method,
                on=one.on,
            )
            for one in readings_of(sheet.readings)
        ),
        painted_ft2_per_room=sheet.painted_ft2_per_room,
        grinding=sheet.grinding,
        stairs=tuple(flights),
        rooms=rooms,
    )


def _limits(rows: KindRows) -> dict[int, dict[str, Decimal]]:
    """Return the lowest moisture limit of every job by method, as `moisture_limits` of one job."""
    limits: dict[int, dict[str, Decimal]] = defaultdict(dict)
    for zone in rows[of_jobs.ZONES]:
        for code, method in METHODS.items():
            limit = getattr(zone.product, method.limit_field, None)
            if limit is not None:
                lowest = limits[zone.job_id].get(code)
                limits[zone.job_id][code] = limit if lowest is None else min(lowest, limit)
    return limits


def _flights(rows: KindRows) -> dict[int, list[Flight]]:
    flights: dict[int, list[Flight]] = defaultdict(list)
    for row in rows[of_jobs.STAIRS]:
        flights[row.job_id].append(flight_of(row))
    return flights
