"""Rooms set against each other through their doorways, with as little typed as can be.

A doorway says where it lies in the room it was measured in. Where it lies in the room beyond is
known when it was typed, when the same opening was measured from both sides, or when that room is
placed already; else the likeliest wall is proposed (`jobs.domain.floors.doorway_match`).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from shapely.geometry import Polygon

from jobs.domain.floors.doorway_match import (
    Match,
    facing,
    is_centered,
    matches_before,
    matches_beyond,
)
from jobs.domain.floors.place import Place, beside, opening
from jobs.domain.lengths import IN_PER_FT, MM_PER_IN, length_words, mm_from, mm_in
from jobs.models import Doorway, FloorZone, Room, User
from jobs.readers.floors.floors import place_of, placed_room, zone_of
from jobs.readers.openings.openings import RoomOpening, far_side, near_side
from jobs.services.records import audit_job, save_versioned, writes_once
from jobs.services.trim import derive_trim
from layout.values.outline import Ring

_APART_MM = IN_PER_FT * MM_PER_IN
SAME_WIDTH_MM = Decimal("12.7")
"""Two measurements of one opening differ by no more than this. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """Where a doorway may lie in the room beyond, and where the room not placed yet then lies."""

    doorway: Doorway
    room: Room
    match: Match


@writes_once(FloorZone, "join by doorways")
def join_by_doorways(
    *, zone: FloorZone, user: User, key: str, expected: int, guess: bool
) -> FloorZone:
    """Return the floor with every room placed that its doorways can place.

    With ``guess`` the likeliest wall is taken where nothing says better. Raises StaleError, or
    ZoningError where the rooms then overlap; nothing is written.
    """
    save_versioned(zone, expected=expected, names=())
    members = list(zone.rooms.select_related("job").order_by("order", "pk"))
    open_rooms = settle(members, members[:1], guess=guess)
    if guess and not open_rooms:
        zone_of(zone)
    audit_job(job=zone.job, user=user, act=f"Joined by doorways the rooms of {zone}")
    return zone


def settle(members: Sequence[Room], settled: list[Room], *, guess: bool = False) -> list[Room]:
    """Place the rooms that are not settled yet by their doorways; return those that can't be.

    What becomes known of a doorway on the way is kept with it.
    """
    if not members:
        return []
    merge_twins(members)
    waiting = [room for room in members if room not in settled]
    while waiting:
        room = _next_placed(settled, waiting, guess=guess)
        if room is None:
            break
        room.refresh_from_db()
        waiting.remove(room)
        settled.append(room)
    _note_arrivals(settled)
    derive_trim(job=members[0].job)
    return waiting


def set_apart(rooms: Iterable[Room], settled: list[Room]) -> None:
    """Place rooms to the right of the settled ones, clear of them."""
    for room in rooms:
        unit = room.job.unit
        rings = [placed_room(other, place_of(other)).ring for other in settled]
        right = max(Polygon(ring).bounds[2] for ring in rings)
        left = Polygon(local_ring(room)).bounds[0]
        keep_place(room, Place(x=right - left + mm_in(_APART_MM, unit)))
        room.refresh_from_db()
        settled.append(room)


def proposals_for(zone: FloorZone) -> list[Proposal]:
    """Return a proposal for each doorway of a floor whose place in the room beyond is not known."""
    members = list(zone.rooms.select_related("job").order_by("order", "pk"))
    settled = _reached(members)
    proposals = []
    for doorway in _open_doorways(members):
        proposal = _proposal(doorway, settled, [r for r in members if r not in settled])
        if proposal is not None:
            proposals.append(proposal)
    return proposals


def said_of_joining(zone: FloorZone, unknown: Iterable[int]) -> list[str]:
    """Return what joining did, and what it took for granted of the doorways not known before."""
    doorways = Doorway.objects.select_related("beyond__job", "room__job")
    assumed = [
        f"{doorway.beyond} through wall {doorway.beyond_wall + 1}, "
        f"{length_words(doorway.beyond_offset_mm, zone.job.units)} from its first corner"
        for doorway in doorways.filter(pk__in=list(unknown), beyond_wall__isnull=False)
        if doorway.beyond_wall is not None and doorway.beyond_offset_mm is not None
    ]
    left = [str(each.doorway.beyond) for each in proposals_for(zone)]
    said = ["The rooms are joined by their doorways."] if not left else []
    if assumed:
        said.append(f"Taken for granted: {'; '.join(assumed)}. Change it here where it is not so.")
    if left:
        said.append(f"Still to be told: where the doorway lies in {', '.join(left)}.")
    return said


def merge_twins(members: Sequence[Room]) -> int:
    """Make one of two doorways that are the same opening, measured from either side; count them."""
    merged = 0
    lone = _open_doorways(members)
    for doorway in lone:
        twins = _leading(lone, doorway.beyond, doorway.room)
        alone = len(_leading(lone, doorway.room, doorway.beyond)) == len(twins) == 1
        if not alone or twins[0].pk < doorway.pk:
            continue
        twin = twins[0]
        if abs(twin.width_mm - doorway.width_mm) > SAME_WIDTH_MM:
            continue
        Doorway.objects.filter(pk=doorway.pk).update(
            beyond_wall=twin.wall,
            beyond_offset_mm=twin.offset_mm,
            casings=max(doorway.casings, twin.casings),
            doors_off=max(doorway.doors_off, twin.doors_off),
        )
        Doorway.objects.filter(pk=twin.pk).delete()
        merged += 1
    return merged


def _leading(doorways: Iterable[Doorway], room: Room | None, beyond: Room | None) -> list[Doorway]:
    """Return the doorways that were measured in one room and lead to another."""
    return [each for each in doorways if (each.room, each.beyond) == (room, beyond)]


def _reached(members: Sequence[Room]) -> list[Room]:
    """Return the rooms that known doorways lead to from the first one, itself with them."""
    settled, links = list(members[:1]), list(known_links(members))
    again = True
    while again:
        beyond = [room for base, room, _, _ in links if base in settled]
        more = [room for room in members if room in beyond and room not in settled]
        settled += more
        again = bool(more)
    return settled


def known_links(settled: Sequence[Room]) -> Iterable[tuple[Room, Room, RoomOpening, RoomOpening]]:
    """Yield what a settled room's doorways lead to: it, the room beyond, the opening in both."""
    doorways = Doorway.objects.select_related("beyond__job", "room__job")
    outward, inward = doorways.filter(room__in=settled), doorways.filter(beyond__in=settled)
    for base in settled:
        for doorway in outward:
            here = far_side(doorway)
            if doorway.room == base and doorway.beyond is not None and here is not None:
                yield base, doorway.beyond, near_side(doorway), here
        for doorway in inward:
            there = far_side(doorway)
            if doorway.beyond == base and there is not None:
                yield base, doorway.room, there, near_side(doorway)


def set_against(room: Room, here: RoomOpening, base: Room, there: RoomOpening) -> None:
    """Place a room so that its opening meets the same opening in ``base`` across the wall."""
    unit = room.job.unit
    gap_there, gap_here = there.gap(unit), here.gap(unit)
    place = beside(
        opening(
            ring_in_floor(base),
            wall=gap_there.wall,
            offset=gap_there.offset,
            width=gap_there.width,
        ),
        depth=mm_in(here.doorway.depth_mm, unit),
        ring=local_ring(room),
        wall=gap_here.wall,
        offset=gap_here.offset,
    )
    keep_place(room, place)


def keep_place(room: Room, place: Place) -> None:
    """Keep where a room lies in its floor."""
    unit = room.job.unit
    Room.objects.filter(pk=room.pk).update(
        place_x_mm=mm_from(place.x, unit),
        place_y_mm=mm_from(place.y, unit),
        place_turn_deg=Decimal(repr(place.turn_deg)),
    )


def local_ring(room: Room) -> Ring:
    """Return a room's outline from its own first corner."""
    return tuple((float(x), float(y)) for x, y in room.outline)


def ring_in_floor(room: Room) -> Ring:
    """Return a room's outline where it lies in its floor."""
    return placed_room(room, place_of(room)).ring


def _next_placed(settled: list[Room], waiting: Sequence[Room], *, guess: bool) -> Room | None:
    """Place one waiting room by a doorway; return it, None where no doorway says enough."""
    for base, beyond, there, here in known_links(settled):
        if beyond in waiting:
            set_against(beyond, here, base, there)
            return next(room for room in waiting if room == beyond)
    proposals = [
        proposal
        for doorway in _open_doorways([*settled, *waiting])
        if (proposal := _proposal(doorway, settled, waiting)) is not None
    ]
    sure = [each for each in proposals if each.match.why]
    chosen = next(iter(sure or (proposals if guess else [])), None)
    if chosen is None:
        return None
    _keep_far_side(chosen.doorway, chosen.match.wall, chosen.match.offset)
    keep_place(chosen.room, chosen.match.place)
    return next(room for room in waiting if room == chosen.room)


def _proposal(
    doorway: Doorway, settled: Sequence[Room], waiting: Sequence[Room]
) -> Proposal | None:
    """Return the likeliest place of a doorway that joins a settled room with a waiting one."""
    if doorway.beyond is None:
        return None
    outward = doorway.room in settled and doorway.beyond in waiting
    if not outward and not (doorway.room in waiting and doorway.beyond in settled):
        return None
    unit = doorway.room.job.unit
    gap, depth = near_side(doorway).gap(unit), mm_in(doorway.depth_mm, unit)
    ring = ring_in_floor(doorway.room) if outward else local_ring(doorway.room)
    opened = opening(ring, wall=gap.wall, offset=gap.offset, width=gap.width)
    others = [ring_in_floor(room) for room in settled]
    centered = is_centered(opened, ring=ring, wall=gap.wall, unit=unit)
    if outward:
        matches = matches_beyond(
            opened,
            depth=depth,
            ring=local_ring(doorway.beyond),
            others=others,
            centered=centered,
            unit=unit,
        )
    else:
        matches = matches_before(
            ring_in_floor(doorway.beyond),
            width=gap.width,
            depth=depth,
            ring=ring,
            wall=gap.wall,
            offset=gap.offset,
            others=others,
            centered=centered,
            unit=unit,
        )
    room = doorway.beyond if outward else doorway.room
    return Proposal(doorway=doorway, room=room, match=matches[0]) if matches else None


def _open_doorways(members: Sequence[Room]) -> list[Doorway]:
    """Return the doorways between rooms whose place in the room beyond is not known."""
    pks = [room.pk for room in members]
    doorways = Doorway.objects.select_related("room__job", "beyond__job")
    lone = doorways.filter(room__in=pks, beyond__in=pks, beyond_wall__isnull=True)
    return list(lone.order_by("pk"))


def _note_arrivals(settled: Sequence[Room]) -> None:
    """Keep where the doorways between placed rooms arrive, where that is a wall."""
    for doorway in _open_doorways(settled):
        unit = doorway.room.job.unit
        gap = near_side(doorway).gap(unit)
        there = opening(
            ring_in_floor(doorway.room), wall=gap.wall, offset=gap.offset, width=gap.width
        )
        beyond = next(room for room in settled if room == doorway.beyond)
        ring, depth = ring_in_floor(beyond), mm_in(doorway.depth_mm, unit)
        met = facing(there, depth=depth, ring=ring, unit=unit)
        if met is not None:
            _keep_far_side(doorway, *met)


def _keep_far_side(doorway: Doorway, wall: int, offset: float) -> None:
    unit = doorway.room.job.unit
    Doorway.objects.filter(pk=doorway.pk).update(
        beyond_wall=wall, beyond_offset_mm=max(Decimal(0), mm_from(offset, unit))
    )
