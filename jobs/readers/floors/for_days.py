"""What the days need to know of a job's floors: rooms with their rows, doorways, the only stair."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal

from jobs.domain.lengths import IN2_PER_FT2
from jobs.domain.scope.by_room.places import FloorFacts, RoomFacts
from jobs.domain.scope.by_room.plan_rows import row_figures, rows_in_rooms
from jobs.domain.scope.inputs import JobTake, RoomTake
from jobs.models import FloorPlan, FloorZone, Job, Room, SiteFacts
from jobs.readers.floors.floors import place_of, placed_room
from jobs.readers.lived_in.facts import use_of_room
from jobs.readers.stored_plan import stored_plan

_CENT = Decimal("0.01")


def floors_for_days(
    job: Job, takes: JobTake, plans: Mapping[FloorZone, FloorPlan]
) -> dict[str, FloorFacts]:
    """Return by its name what the days of a job need to know of each of its planned floors."""
    rooms: dict[int | None, list[Room]] = {zone.pk: [] for zone in plans}
    for room in job.rooms.filter(zone__in=plans):
        rooms[room.zone_id].append(room)
    glued = [stair for stair in takes.stairs if stair.glued]
    only = {glued[0].zone} if len(takes.stairs) == 1 and glued else set()
    site = SiteFacts.objects.filter(job=job).first()
    uses = {room.name: use_of_room(room, site) for among in rooms.values() for room in among}
    return {
        zone.name: _facts(plan, rooms[zone.pk], takes, uses, alternate=zone.name in only)
        for zone, plan in plans.items()
    }


def waits_of(zones: Iterable[FloorZone]) -> dict[str, Decimal]:
    """Return the hours that boards lie in the house before they are laid, by the floor's name."""
    waits = {zone.name: Decimal(zone.product.acclimate_hours) for zone in zones}
    return {name: hours for name, hours in waits.items() if hours}


def _facts(
    plan: FloorPlan,
    rooms: Sequence[Room],
    takes: JobTake,
    uses: Mapping[str, str],
    *,
    alternate: bool,
) -> FloorFacts:
    form = stored_plan(plan).plan_form
    alone = len(rooms) == 1
    rings = {room.name: placed_room(room, place_of(room, alone=alone)).ring for room in rooms}
    rows = rows_in_rooms(form["pieces"], rings)
    facts = [
        _room(take, rows[take.name], uses[take.name]) for take in takes.rooms if take.name in rings
    ]
    return FloorFacts(
        rooms=tuple(sorted(facts, key=lambda room: room.rows or (0, 0))),
        rows=row_figures(form["pieces"], form["unit"]),
        doorways={doorway.name: doorway.room for doorway in takes.doorways},
        alternate=alternate,
    )


def _room(take: RoomTake, rows: tuple[int, int] | None, use: str) -> RoomFacts:
    area = (take.area_in2 / IN2_PER_FT2).quantize(_CENT)
    return RoomFacts(name=take.name, area=max(area, _CENT), use=use, rows=rows)
