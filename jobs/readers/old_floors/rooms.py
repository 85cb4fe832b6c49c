"""What the visit found room by room: said of the room, else of its house."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from typing import cast

from jobs.domain.checks import ZERO
from jobs.domain.site.facts import (
    KnownAdhesive,
    KnownFloor,
    KnownLayer,
    KnownPaint,
    KnownSubfloor,
    SiteRoom,
)
from jobs.models import Room, SiteFacts, TrimKind, TrimRun
from jobs.models.old_floors.old_floor import BEFORE_FIELDS
from jobs.readers.openings.doorways import inches_of
from jobs.readers.together import of_jobs
from jobs.readers.together.round_trip import KindRows
from jobs.readers.trim import handled

KINDS = (of_jobs.ROOMS, of_jobs.BASE_RUNS)
"""The rows that `rooms_by_job` reads."""


def room_facts(room: Room, house: SiteFacts, base: Iterable[TrimRun] | None = None) -> SiteRoom:
    """Return what is known of a room; ``base``: its runs of base, where they are at hand."""
    if base is None:
        base = [run for run in room.trim_runs.all() if run.kind == TrimKind.BASE]
    off = sum((run.length_mm for run in handled(base, "reinstall", "replace")), ZERO)
    height = room.base_height_mm
    return SiteRoom(
        name=room.name,
        existing_floor=cast(KnownFloor, old_floor_of(room, house)),
        floor_year=room.old_floor_year if room.old_floor else house.floor_year,
        layer_below=cast(KnownLayer, room.layer_below),
        adhesive=cast(KnownAdhesive, room.old_adhesive),
        subfloor=cast(KnownSubfloor, subfloor_of(room, house)),
        painted_base=cast(KnownPaint, room.painted_base),
        base_off_in=inches_of(off),
        base_height_in=None if height is None else inches_of(height),
    )


def old_floor_of(room: Room, house: SiteFacts | None) -> str:
    """Return what is down in a room: what is said of it, else of its house."""
    return str(room.old_floor or (house.existing_floor if house else "unknown"))


def subfloor_of(room: Room, house: SiteFacts | None) -> str:
    """Return what a room lies on: what is said of it, else of its house."""
    return str(room.lies_on or (house.subfloor if house else "unknown"))


def rooms_by_job(
    houses: Mapping[int, SiteFacts], rows: KindRows
) -> dict[int, tuple[SiteRoom, ...]]:
    """Return what is known of the rooms of many jobs by the job's key, from rows of `KINDS`."""
    base: dict[int, list[TrimRun]] = defaultdict(list)
    for run in rows[of_jobs.BASE_RUNS]:
        base[run.room_id].append(run)
    by_job: dict[int, list[SiteRoom]] = defaultdict(list)
    for room in rows[of_jobs.ROOMS]:
        if room.job_id not in houses:
            continue
        for run in base[room.pk]:
            run.room = room
        by_job[room.job_id].append(room_facts(room, houses[room.job_id], base[room.pk]))
    return {job: tuple(facts) for job, facts in by_job.items()}


def said_of_rooms(rooms: Iterable[Room]) -> dict[int, list[list[str]]]:
    """Return what is said of rooms that differs from nothing said, by the key of their job."""
    plain = _said(Room())
    said: dict[int, list[list[str]]] = defaultdict(list)
    for room in rooms:
        if (values := _said(room)) != plain:
            said[room.job_id].append([room.name, *values])
    return said


def _said(room: Room) -> list[str]:
    return [str(getattr(room, name)) for name in BEFORE_FIELDS]


def on_slab(rooms: Iterable[Room], house: SiteFacts) -> list[Room]:
    """Return the rooms that lie on concrete."""
    return [room for room in rooms if subfloor_of(room, house) == "slab"]
